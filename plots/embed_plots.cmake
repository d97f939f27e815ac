# Turns plots/*.gp into one C file. Run as a script:
#   cmake -DOUTPUT=embedded_plots.c "-DPLOTS=a.gp;b.gp" -P embed_plots.cmake
# Bytes go through as hexadecimal numbers, so that no quote, backslash or length limit of a C string
# can spoil a template.
set(arrays "")
set(table "")
foreach(plot ${PLOTS})
  get_filename_component(name ${plot} NAME_WE)
  file(READ ${plot} hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  # Lines of 16 numbers, for whoever has to look at the file.
  string(REPEAT "0x..," 16 line)
  string(REGEX REPLACE "(${line})" "\\1\n    " bytes "${bytes}")
  string(APPEND arrays "static const unsigned char plot_${name}[] = {\n    ${bytes}\n};\n\n")
  string(APPEND table "    {\"${name}\", plot_${name}, sizeof plot_${name}},\n")
endforeach()
file(WRITE ${OUTPUT} "/* Made by plots/embed_plots.cmake from plots/. */
#include \"show/embedded_plots.h\"

${arrays}const embedded_plot embedded_plots[] = {
${table}    {NULL, NULL, 0},
};
")
