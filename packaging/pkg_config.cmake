# Run by the install: coiltrim.pc with the prefix that is installed to. Paths below the prefix are
# written relative to it, so that the tree can be moved with --define-prefix.
foreach(part LIBDIR INCLUDEDIR)
  if(IS_ABSOLUTE "${PC_${part}_GIVEN}")
    set(PC_${part} "${PC_${part}_GIVEN}")
  else()
    set(PC_${part} "\${prefix}/${PC_${part}_GIVEN}")
  endif()
endforeach()
set(PC_PREFIX "${CMAKE_INSTALL_PREFIX}")
configure_file("${PC_IN}" "${PC_OUT}" @ONLY)
