# SPDX-License-Identifier: Apache-2.0
# Used by the build tree and, installed, by the package's users.

# Has every program that links `target`, straight or through another library, carry the path of the content
# folder, in a small source written to `source`.
function(haunch_carry_content target content source)
  set(HAUNCH_CONTENT_PLACE "${content}")
  configure_file(${CMAKE_CURRENT_FUNCTION_LIST_DIR}/content_place.cpp.in "${source}" @ONLY)
  set(carrier "$<$<IN_LIST:$<TARGET_PROPERTY:TYPE>,EXECUTABLE$<SEMICOLON>SHARED_LIBRARY$<SEMICOLON>MODULE_LIBRARY>:${source}>")
  get_target_property(imported ${target} IMPORTED)
  if(imported)
    set_property(TARGET ${target} APPEND PROPERTY INTERFACE_SOURCES "${carrier}")
  else()
    set_property(TARGET ${target} APPEND PROPERTY INTERFACE_SOURCES "$<BUILD_INTERFACE:${carrier}>")
  endif()
endfunction()
