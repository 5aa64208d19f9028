# SPDX-License-Identifier: Apache-2.0
# A room of the engine: a static library haunch_<name>, alias haunch::<name>, its headers reached as
# "<name>/file.hpp"; and its test program <name>_test.

include(GoogleTest)

# haunch_room(<name> SOURCES <file>... [USES <room>...] [PRIVATE_LINK <lib>...] [PUBLIC_LINK <lib>...])
function(haunch_room name)
  cmake_parse_arguments(ROOM "" "" "SOURCES;USES;PRIVATE_LINK;PUBLIC_LINK" ${ARGN})
  add_library(haunch_${name} STATIC ${ROOM_SOURCES})
  add_library(haunch::${name} ALIAS haunch_${name})
  target_include_directories(haunch_${name} PUBLIC $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}/engine>)
  target_compile_features(haunch_${name} PUBLIC cxx_std_20)
  foreach(used IN LISTS ROOM_USES)
    target_link_libraries(haunch_${name} PUBLIC haunch::${used})
  endforeach()
  # Who links an installed room needs none of these: they are headers, used up when the room was compiled.
  foreach(private IN ITEMS haunch_warnings LISTS ROOM_PRIVATE_LINK)
    target_link_libraries(haunch_${name} PRIVATE $<BUILD_INTERFACE:${private}>)
  endforeach()
  target_link_libraries(haunch_${name} PUBLIC ${ROOM_PUBLIC_LINK})
endfunction()

# haunch_test(<room> SOURCES <file>... [LINK <lib>...] [PROPERTIES <property> <value>...])
function(haunch_test room)
  cmake_parse_arguments(T "" "" "SOURCES;LINK;PROPERTIES" ${ARGN})
  add_executable(${room}_test ${T_SOURCES})
  target_link_libraries(${room}_test PRIVATE haunch_warnings ${T_LINK} GTest::gtest GTest::gmock GTest::gtest_main)
  if(TARGET haunch_${room})
    target_link_libraries(${room}_test PRIVATE haunch::${room})
  endif()
  target_include_directories(${room}_test PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  target_compile_definitions(${room}_test PRIVATE
    HAUNCH_SOURCE_DIR="${PROJECT_SOURCE_DIR}" HAUNCH_BIN_DIR="${CMAKE_RUNTIME_OUTPUT_DIRECTORY}")
  gtest_discover_tests(${room}_test TEST_PREFIX "${room}." NO_PRETTY_VALUES DISCOVERY_TIMEOUT 60 PROPERTIES TIMEOUT 600 ${T_PROPERTIES})
endfunction()
