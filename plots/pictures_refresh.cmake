# Makes the README's pictures anew from an example. Run by the pictures-refresh target. The plots are
# SVG: small, and their change can be read. The sheet needs chromium and poppler-utils, as its test does.
set(case ${SOURCE_DIR}/examples/r22-larger-coil.yaml)
set(pictures ${SOURCE_DIR}/plots/pictures)
function(run)
  execute_process(COMMAND ${ARGV} WORKING_DIRECTORY ${WORK_DIR} OUTPUT_QUIET RESULT_VARIABLE code)
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "exit code ${code}: ${ARGV}")
  endif()
endfunction()
file(REMOVE_RECURSE ${WORK_DIR})
file(MAKE_DIRECTORY ${WORK_DIR})
run(${PROGRAM} sweep ${case} -o drawn --format svg)
run(${PROGRAM} explain ${case} -o drawn --format svg)
foreach(name capacity humidity psychro)
  file(COPY ${WORK_DIR}/drawn/${name}.svg DESTINATION ${pictures})
endforeach()
run(gnuplot -e "readme='${SOURCE_DIR}/README.md'; picture='laboratory.svg'" ${pictures}/laboratory.gp)
file(COPY ${WORK_DIR}/laboratory.svg DESTINATION ${pictures})
run(${PROGRAM} page ${case} -o job.html)
run(env HOME=${WORK_DIR} chromium --headless --no-sandbox --disable-gpu --no-first-run
  --disable-background-networking --no-pdf-header-footer --print-to-pdf=${WORK_DIR}/job.pdf
  file://${WORK_DIR}/job.html)
# The technician's first sheet, at a size that can still be read.
run(pdftoppm -r 72 -png -singlefile -f 2 -l 2 job.pdf technician-sheet)
file(COPY ${WORK_DIR}/technician-sheet.png DESTINATION ${pictures})
