# Makes tests/golden anew and shows the difference: each folder there from the example of its name.
# Run by the golden-refresh target.
set(golden ${SOURCE_DIR}/tests/golden)
file(GLOB names LIST_DIRECTORIES true RELATIVE ${golden} ${golden}/*)
file(REMOVE_RECURSE ${WORK_DIR})
foreach(name ${names})
  set(case ${SOURCE_DIR}/examples/${name}.yaml)
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
