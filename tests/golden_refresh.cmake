# Makes tests/golden anew from the examples and shows the difference. Run by the golden-refresh target.
file(GLOB cases ${SOURCE_DIR}/examples/*.yaml)
list(FILTER cases EXCLUDE REGEX "/(readings|awkward)-") # no case, or for the page only
set(golden ${SOURCE_DIR}/tests/golden)
file(REMOVE_RECURSE ${WORK_DIR})
foreach(case ${cases})
  get_filename_component(name ${case} NAME_WE)
  file(MAKE_DIRECTORY ${WORK_DIR}/${name})
  execute_process(COMMAND ${PROGRAM} sweep ${case} OUTPUT_FILE ${WORK_DIR}/${name}/stdout.txt
    RESULT_VARIABLE code)
  # 10: no speed passes, an answer like another.
  if(NOT code EQUAL 0 AND NOT code EQUAL 10)
    message(FATAL_ERROR "sweep ${case}: exit code ${code}")
  endif()
  execute_process(COMMAND ${PROGRAM} sweep ${case} --no-render -q -o ${WORK_DIR}/${name}
    OUTPUT_QUIET)
  file(GLOB scripts ${WORK_DIR}/${name}/*.gp)
  file(REMOVE ${scripts})
endforeach()
execute_process(COMMAND diff -ru --strip-trailing-cr ${golden} ${WORK_DIR})
file(REMOVE_RECURSE ${golden})
file(COPY ${WORK_DIR}/ DESTINATION ${golden})
