# What other programs build on: two libraries, their headers, and the files by which find_package finds them. All of it
# is the component `development`; what belongs to the program is the component `runtime`.
include(CMakePackageConfigHelpers)

set(detent_package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/detent)

# detent_library(NAME headers…): the target detent_NAME, in the folder NAME, as detent::NAME.
function(detent_library name)
  add_library(detent::${name} ALIAS detent_${name})
  set_target_properties(detent_${name} PROPERTIES EXPORT_NAME ${name} VERSION ${PROJECT_VERSION}
                        SOVERSION ${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR})
  target_compile_features(detent_${name} PUBLIC cxx_std_20)
  target_include_directories(detent_${name} PUBLIC $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}>
                             $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/detent>)
  install(TARGETS detent_${name} EXPORT detent
          ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT development
          LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT runtime NAMELINK_COMPONENT development)
  install(FILES ${ARGN} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/detent/${name} COMPONENT development)
  list(TRANSFORM ARGN PREPEND ${PROJECT_SOURCE_DIR}/${name}/)
  set_property(GLOBAL APPEND PROPERTY detent_public_headers ${ARGN})
endfunction()

# The files for find_package(detent). A new minor version of 0.x may change what there is.
function(detent_package)
  install(EXPORT detent NAMESPACE detent:: FILE detentTargets.cmake
          DESTINATION ${detent_package_folder} COMPONENT development)
  configure_package_config_file(${PROJECT_SOURCE_DIR}/.cmake/detentConfig.cmake.in
                                ${PROJECT_BINARY_DIR}/detentConfig.cmake
                                INSTALL_DESTINATION ${detent_package_folder})
  write_basic_package_version_file(${PROJECT_BINARY_DIR}/detentConfigVersion.cmake COMPATIBILITY SameMinorVersion)
  install(FILES ${PROJECT_BINARY_DIR}/detentConfig.cmake ${PROJECT_BINARY_DIR}/detentConfigVersion.cmake
                ${PROJECT_SOURCE_DIR}/.cmake/DetentZ3.cmake
          DESTINATION ${detent_package_folder} COMPONENT development)
endfunction()
