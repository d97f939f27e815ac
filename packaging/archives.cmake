# GSL_LINKED, YAML_LINKED, JANSSON_LINKED and CSV_LINKED: what the program is linked with, the archive
# where there is one and it fits into a position-independent program, else the shared library.
include(CheckCSourceCompiles)
function(archive_or_shared result shared header call)
  string(REGEX REPLACE "_LINKED" "" package ${result})
  set(all ${COILTRIM_ARCHIVES})
  set(found)
  foreach(name ${ARGN})
    if(all)
      find_library(ARCHIVE_${name} NAMES lib${name}.a HINTS ${${package}_LIBRARY_DIRS})
      list(APPEND found ${ARCHIVE_${name}})
      if(NOT ARCHIVE_${name})
        set(all OFF)
      endif()
    endif()
  endforeach()
  if(all) # one that is not found would stop the check, and with it everything
    set(CMAKE_REQUIRED_INCLUDES ${${package}_INCLUDE_DIRS})
    set(CMAKE_REQUIRED_LIBRARIES ${found} m)
    check_c_source_compiles("
      #include <stdio.h>
      #include <${header}>
      int main(void) { return ${call} == 0; }" ${result}_FITS)
  endif()
  if(all AND ${result}_FITS)
    set(${result} ${found} PARENT_SCOPE)
  else()
    set(${result} ${shared} PARENT_SCOPE)
  endif()
endfunction()
archive_or_shared(GSL_LINKED PkgConfig::GSL gsl/gsl_errno.h gsl_set_error_handler_off gsl gslcblas)
archive_or_shared(YAML_LINKED PkgConfig::YAML yaml.h yaml_get_version_string yaml)
archive_or_shared(JANSSON_LINKED PkgConfig::JANSSON jansson.h json_object jansson)
archive_or_shared(CSV_LINKED ${CSV_LIBRARY} csv.h csv_strerror csv)
