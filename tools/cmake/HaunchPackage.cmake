# SPDX-License-Identifier: Apache-2.0
# What `cmake --install` puts under a prefix, in three components: `library` (libraries, public headers,
# package for find_package), `programs`, and the `content` both need.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

set(HAUNCH_INSTALLED_CONTENT ${CMAKE_INSTALL_DATADIR}/haunch/content)
set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/haunch)

# The public headers: these and no others are installed, and they include nothing but each other and the
# standard library (tests/package).
function(haunch_public room)
  list(TRANSFORM ARGN PREPEND ${PROJECT_SOURCE_DIR}/engine/${room}/)
  target_sources(haunch_${room} PUBLIC FILE_SET HEADERS BASE_DIRS ${PROJECT_SOURCE_DIR}/engine FILES ${ARGN})
  # Others may put it into a shared library of their own.
  set_target_properties(haunch_${room} PROPERTIES EXPORT_NAME ${room} POSITION_INDEPENDENT_CODE ON)
  target_include_directories(haunch_${room} INTERFACE
    $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}> $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/haunch>)
  install(TARGETS haunch_${room} EXPORT haunch
    ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT library
    FILE_SET HEADERS DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/haunch COMPONENT library)
endfunction()
haunch_public(base clock.hpp files.hpp result.hpp units.hpp)
haunch_public(coding code_list.hpp doubtful.hpp observation.hpp record.hpp rules.hpp stretch.hpp validate.hpp)
haunch_public(exchange exchange_text.hpp inspection_writer.hpp inspections.hpp read_records.hpp record_json.hpp)
haunch_public(grading doubt.hpp grade.hpp grade_json.hpp site.hpp)

install(EXPORT haunch FILE haunchTargets.cmake NAMESPACE haunch:: DESTINATION ${package_dir} COMPONENT library)
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/haunchConfig.cmake.in
  ${CMAKE_CURRENT_BINARY_DIR}/haunchConfig.cmake
  INSTALL_DESTINATION ${package_dir} PATH_VARS HAUNCH_INSTALLED_CONTENT)
# Until 1.0 a second number promises nothing to the one before it.
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/haunchConfigVersion.cmake
  VERSION ${PROJECT_VERSION} COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/haunchConfig.cmake ${CMAKE_CURRENT_BINARY_DIR}/haunchConfigVersion.cmake
  ${CMAKE_CURRENT_LIST_DIR}/HaunchContent.cmake ${CMAKE_CURRENT_LIST_DIR}/content_place.cpp.in
  DESTINATION ${package_dir} COMPONENT library)

install(DIRECTORY ${PROJECT_SOURCE_DIR}/content/ DESTINATION ${HAUNCH_INSTALLED_CONTENT} COMPONENT content)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT content)
# A program that was not built is left out: the window's needs a display's libraries.
foreach(program haunch haunch-train)
  if(TARGET ${program})
    install(TARGETS ${program} RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT programs OPTIONAL)
  endif()
endforeach()

# What the desktop and the shell know of it.
install(FILES ${PROJECT_SOURCE_DIR}/tools/packaging/haunch-train.desktop
  DESTINATION ${CMAKE_INSTALL_DATADIR}/applications COMPONENT programs)
install(FILES ${PROJECT_SOURCE_DIR}/assets/icons/haunch.svg
  DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps COMPONENT programs)
install(FILES ${PROJECT_SOURCE_DIR}/tools/packaging/haunch.1 ${PROJECT_SOURCE_DIR}/tools/packaging/haunch-train.1
  DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT programs)
foreach(program haunch haunch-train)
  install(FILES ${PROJECT_SOURCE_DIR}/tools/packaging/haunch.bash-completion RENAME ${program}
    DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT programs)
endforeach()

# The Debian package: programs and content in one; `tools/package` builds it.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME haunch)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Training for people who put cameras down drains, and a check on their coding")
set(CPACK_PACKAGE_DESCRIPTION "Drive a camera through rendered pipe runs, code what is there to EN 13508-2, grade it,
say what to do next, and be marked on all three. The same grading library marks real records.")
set(CPACK_PACKAGE_CONTACT "The Haunch founders <haunch@localhost>")
set(CPACK_PACKAGE_VENDOR Haunch)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL programs content)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# Fonts and a software OpenGL are no libraries that the programs name.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-dejavu-core, libgl1-mesa-dri")
set(CPACK_DEBIAN_PACKAGE_SECTION education)
include(CPack)
