# Turns the text, the style and the script of the explore page into one C file. Run as a script:
#   cmake -DOUTPUT=embedded_explore.c -DFOLDER=cli/explore/script -P embed.cmake
# The scripts become one, in the order below; a page's policy names one text by its hash.
set(SCRIPTS grid verdict chart words controls view lesson start)
set(joined "")
foreach(name ${SCRIPTS})
  file(READ ${FOLDER}/${name}.js text)
  string(APPEND joined "${text}")
endforeach()
file(WRITE ${OUTPUT}.js "${joined}")

# Bytes go through as hexadecimal numbers, as in plots/embed_plots.cmake.
function(as_bytes hex out)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  set(${out} "${bytes}" PARENT_SCOPE)
endfunction()

set(code "/* Made by cli/explore/script/embed.cmake. */\n#include \"explore/embedded.h\"\n\n")
foreach(one "body;${FOLDER}/body.html" "style;${FOLDER}/style.css" "script;${OUTPUT}.js")
  list(GET one 0 name)
  list(GET one 1 path)
  file(READ ${path} hex HEX)
  file(SHA256 ${path} hash)
  as_bytes("${hex}" bytes)
  as_bytes("${hash}" sha256)
  string(APPEND code "static const unsigned char ${name}[] = {${bytes}};\n"
    "const embedded_text explore_${name} = {${name}, sizeof ${name}, {${sha256}}};\n\n")
endforeach()
file(WRITE ${OUTPUT} "${code}")
