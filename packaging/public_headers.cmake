# Public headers as they are installed: OUT/base/status.h and so on, including each other as
# <coiltrim/base/status.h>, and OUT/coiltrim.h, which includes all of them.
# Usage: cmake -DROOT=lib -DOUT=include/coiltrim -P public_headers.cmake
file(GLOB_RECURSE headers RELATIVE ${ROOT} ${ROOT}/*.h)
list(SORT headers)
file(REMOVE_RECURSE ${OUT})
set(umbrella "/* coiltrim: every public header. `coiltrim/study/answer_json.h` is the place to start. */
#ifndef CT_COILTRIM_H
#define CT_COILTRIM_H

")
foreach(header ${headers})
  file(READ ${ROOT}/${header} text)
  # The opening paragraph says for whom a header is.
  string(FIND "${text}" "*/" end)
  string(SUBSTRING "${text}" 0 ${end} opening)
  if(opening MATCHES "[Ii]nternal")
    continue()
  endif()
  string(REGEX REPLACE "#include \"([a-z_0-9]+/[a-z_0-9]+\\.h)\"" "#include <coiltrim/\\1>" text "${text}")
  file(WRITE ${OUT}/${header} "${text}")
  string(APPEND umbrella "#include <coiltrim/${header}>\n")
endforeach()
file(WRITE ${OUT}/coiltrim.h "${umbrella}\n#endif\n")
