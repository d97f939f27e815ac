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
run(gnuplot -e "readme='${SOURCE_DIR}/README.md'" -e "picture='laboratory.svg'"
  ${pictures}/laboratory.gp)
file(COPY ${WORK_DIR}/laboratory.svg DESTINATION ${pictures})
run(${PROGRAM} page ${case} -o job.html)
run(env HOME=${WORK_DIR} chromium --headless --no-sandbox --disable-gpu --no-first-run
  --disable-background-networking --no-pdf-header-footer --print-to-pdf=${WORK_DIR}/job.pdf
  file://${WORK_DIR}/job.html)
# The technician's first sheet, at a size that can still be read.
run(pdftoppm -r 72 -png -singlefile -f 2 -l 2 job.pdf technician-sheet)
file(COPY ${WORK_DIR}/technician-sheet.png DESTINATION ${pictures})

# A walk through a lesson on a telephone: the question, the guesses, the answer, the page after. The
# script that walks is not the page's own, so the copy has no policy.
set(lessons ${SOURCE_DIR}/examples/lessons)
run(${PROGRAM} explore ${lessons}/base.yaml --lesson ${lessons}/1-slow-the-blower.md -o lesson.html)
file(READ ${WORK_DIR}/lesson.html page)
file(READ ${pictures}/lesson_walk.js walk)
string(REGEX REPLACE "<meta http-equiv[^>]*>" "" page "${page}")
string(REPLACE "</body>" "<script>${walk}</script></body>" page "${page}")
file(WRITE ${WORK_DIR}/lesson.html "${page}")
set(frames "")
foreach(step 0 1 2 3)
  string(APPEND frames "<iframe src='lesson.html?${step}' width='390' height='780'></iframe>")
endforeach()
file(WRITE ${WORK_DIR}/walk.html
  "<style>body{margin:0;display:flex;gap:12px;background:#8a9097}iframe{border:0;background:#fff}</style>${frames}")
run(env HOME=${WORK_DIR} chromium --headless --no-sandbox --disable-gpu --no-first-run
  --disable-background-networking --hide-scrollbars --force-device-scale-factor=0.6
  --window-size=1596,780 --virtual-time-budget=6000 --screenshot=${WORK_DIR}/lesson-walk.png
  file://${WORK_DIR}/walk.html)
file(COPY ${WORK_DIR}/lesson-walk.png DESTINATION ${pictures})
