# Run by cpack before it makes the package: what only Debian wants. Manual pages and the changelog
# are compressed, without a time in them.
file(GLOB pages ${CPACK_TEMPORARY_INSTALL_DIRECTORY}/usr/share/man/man*/*.[1-9])
set(doc ${CPACK_TEMPORARY_INSTALL_DIRECTORY}/usr/share/doc/coiltrim)
configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog ${doc}/changelog COPYONLY)
foreach(file ${pages} ${doc}/changelog)
  execute_process(COMMAND gzip -9n ${file} COMMAND_ERROR_IS_FATAL ANY)
endforeach()
