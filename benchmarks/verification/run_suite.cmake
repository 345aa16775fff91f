# Runs the suite, naming the commit that is checked out, and keeps its table beside the sources.
execute_process(COMMAND git -C ${SOURCE} describe --always --dirty OUTPUT_VARIABLE commit OUTPUT_STRIP_TRAILING_WHITESPACE)
execute_process(COMMAND ${PROGRAM} --out ${OUT} --commit "commit ${commit}" COMMAND_ERROR_IS_FATAL ANY)
configure_file(${OUT}/RESULTS.md ${SOURCE}/benchmarks/verification/RESULTS.md COPYONLY)
