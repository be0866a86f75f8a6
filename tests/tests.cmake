# The tests, read by CMakeLists.txt. Names of tests follow their files: unit/core/fold_test, window/..., fuzz/...,
# check/... So `tests/run -R parcel` runs all that has to do with parcels. What takes minutes (another build, fuzzing)
# carries the label heavy and is left out by tests/heavy when what it covers has not changed.

set(program_and_sources MOTHERBULB_BINARY=$<TARGET_FILE:motherbulb> MOTHERBULB_SOURCE_DIR=${CMAKE_SOURCE_DIR}
                        MOTHERBULB_BUILD_DIR=${CMAKE_BINARY_DIR})
# Not UTC, and a zone with odd offsets on purpose: what depends on the machine's zone shows.
set(test_environment TZ=Pacific/Chatham ${program_and_sources})
set(patience 1)
if(MOTHERBULB_BUILD STREQUAL "sanitize")
  set(patience 3) # plans that are walked through chance take minutes there
endif()
set(fuzz_seconds 60)
if(MOTHERBULB_LONG)
  list(APPEND test_environment MOTHERBULB_LONG=1)
  set(patience 60)
  set(fuzz_seconds 3600)
endif()

function(motherbulb_test name)
  cmake_parse_arguments(given "ALONE" "TIMEOUT;NONE_FOUND" "COMMAND;LABELS;FIXTURES" ${ARGN})
  add_test(NAME ${name} COMMAND ${given_COMMAND} WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
  if(NOT given_TIMEOUT)
    set(given_TIMEOUT 300)
  endif()
  math(EXPR given_TIMEOUT "${given_TIMEOUT} * ${patience}")
  set_tests_properties(${name} PROPERTIES ENVIRONMENT "${test_environment}" TIMEOUT ${given_TIMEOUT}
                                          SKIP_RETURN_CODE 77 LABELS "${given_LABELS}")
  if(given_NONE_FOUND)
    set_tests_properties(${name} PROPERTIES FAIL_REGULAR_EXPRESSION "${given_NONE_FOUND}")
  endif()
  if(given_FIXTURES)
    set_tests_properties(${name} PROPERTIES FIXTURES_REQUIRED "${given_FIXTURES}")
  endif()
  if(given_ALONE)
    set_tests_properties(${name} PROPERTIES RUN_SERIAL ON)
  endif()
endfunction()

# One doctest program of the sources named; one ctest test for each *_test.cpp among them.
function(motherbulb_doctest program prefix folder sources)
  add_executable(${program} tests/doctest_main.cpp ${sources})
  target_include_directories(${program} PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(${program} PRIVATE motherbulb_rules ${ARGN})
  set_target_properties(${program} PROPERTIES MOTHERBULB_QUICK ON)
  add_dependencies(${program} motherbulb_assets)
  set(runner "")
  if(prefix STREQUAL "window")
    set(runner xvfb-run -a -s "-screen 0 1600x1600x24 -nolisten tcp -noreset")
  endif()
  foreach(source IN LISTS sources)
    if(source MATCHES "_test\\.cpp$")
      string(REGEX REPLACE "^${folder}/(.*)\\.cpp$" "\\1" name ${source})
      # A filter that finds no test case would pass in doctest; here it fails.
      motherbulb_test(
        ${prefix}/${name}
        COMMAND ${runner} $<TARGET_FILE:${program}> "--source-file=*${source}"
        NONE_FOUND "test cases: +0 "
        TIMEOUT 600)
      if(runner)
        # Two displays started at once may choose the same number. One after the other they take longest of all, so
        # they begin first.
        set_tests_properties(${prefix}/${name} PROPERTIES RESOURCE_LOCK display COST 100)
      endif()
    endif()
  endforeach()
endfunction()

motherbulb_sources(tests MOTHERBULB_TESTS_SOURCES unit_sources)
if(unit_sources)
  motherbulb_doctest(motherbulb_tests unit tests "${unit_sources}" app platform core shared)
  # These reckon much themselves.
  set(reckoning ${unit_sources})
  list(FILTER reckoning INCLUDE REGEX "^tests/(published|property|faults)/")
  set_source_files_properties(${reckoning} PROPERTIES COMPILE_OPTIONS $<IF:$<STREQUAL:${MOTHERBULB_BUILD},sanitize>,-O1,-O2>)
endif()

motherbulb_sources(tests/screens MOTHERBULB_SCREENS_SOURCES window_sources)
if(window_sources)
  motherbulb_doctest(motherbulb_window_tests window tests/screens "${window_sources}" app platform core shared)
endif()

motherbulb_sources(tests/bench MOTHERBULB_BENCH_SOURCES bench_sources)
if(bench_sources)
  add_executable(motherbulb_bench EXCLUDE_FROM_ALL ${bench_sources})
  target_include_directories(motherbulb_bench PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(motherbulb_bench PRIVATE motherbulb_rules app platform core shared)
  add_dependencies(motherbulb_bench motherbulb motherbulb_assets)
endif()

# Fuzz targets. With libFuzzer they are programs to run for a while (tests/fuzz/run); without, they replay what is in
# their corpus, every time.
motherbulb_sources(tests/fuzz MOTHERBULB_FUZZ_SOURCES fuzz_sources)
set(fuzz_names "")
foreach(source IN LISTS fuzz_sources)
  get_filename_component(name ${source} NAME_WE)
  list(APPEND fuzz_names ${name})
  add_executable(fuzz_${name} ${source})
  target_include_directories(fuzz_${name} PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(fuzz_${name} PRIVATE motherbulb_rules core shared)
  if(MOTHERBULB_FUZZ)
    target_link_options(fuzz_${name} PRIVATE -fsanitize=fuzzer)
  else()
    target_sources(fuzz_${name} PRIVATE tests/fuzz/replay_main.cpp)
    motherbulb_test(fuzz/replay/${name} COMMAND $<TARGET_FILE:fuzz_${name}> tests/fuzz/corpus/${name})
  endif()
endforeach()

# Python programs that look at us from outside: no code of ours in them.
include(tests/sources.cmake)
file(GLOB python_files CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR}/tests ${CMAKE_SOURCE_DIR}/tests/*.py)
list(REMOVE_ITEM python_files ${MOTHERBULB_PYTHON_HELPERS})
find_program(MOTHERBULB_PYTHON python3 PATHS /usr/bin NO_DEFAULT_PATH REQUIRED) # Debian's own, where its modules are
foreach(file IN LISTS python_files)
  get_filename_component(name ${file} NAME_WE)
  motherbulb_test(check/${name} COMMAND ${MOTHERBULB_PYTHON} tests/${file} TIMEOUT 600)
endforeach()

motherbulb_test(check/acceptance/season COMMAND ${MOTHERBULB_PYTHON} tests/acceptance/season_test.py)
motherbulb_test(check/calibration COMMAND ${MOTHERBULB_PYTHON} tests/calibration/calibration.py TIMEOUT 600)
motherbulb_test(check/published/sampling COMMAND ${MOTHERBULB_PYTHON} tests/published/sampling_test.py)
motherbulb_test(check/published/growth_rate COMMAND ${MOTHERBULB_PYTHON} tests/published/growth_rate_check.py TIMEOUT 600)
motherbulb_test(check/published/plan COMMAND ${MOTHERBULB_PYTHON} tests/published/plan_check.py)
motherbulb_test(check/published/soonest COMMAND ${MOTHERBULB_PYTHON} tests/published/soonest_check.py)
motherbulb_test(check/published/yields COMMAND ${MOTHERBULB_PYTHON} tests/published/yields_check.py)

# The long ones begin early, so that no core is left without work at the end.
set_tests_properties(check/published/growth_rate check/published/plan check/published/yields unit/core/demo_test
                     unit/app/monkey_test unit/faults/power_loss_test unit/faults/damaged_store_test
                     unit/property/merge_order_test PROPERTIES COST 50)

motherbulb_test(check/include COMMAND tests/include_test)
motherbulb_test(check/include_can_fail COMMAND tests/include_test --prove)

# Other builds: only ctest of a plain build drives them, each in a folder of its own under this one.
if(MOTHERBULB_BUILD STREQUAL "release" AND NOT MOTHERBULB_FUZZ)
  motherbulb_test(
    heavy/sanitize/build
    COMMAND tests/heavy sanitize-build ${CMAKE_BINARY_DIR}
    LABELS heavy
    ALONE
    TIMEOUT 1800)
  set_tests_properties(heavy/sanitize/build PROPERTIES FIXTURES_SETUP sanitized)
  motherbulb_test(
    heavy/sanitize/tests
    COMMAND tests/heavy sanitize-tests ${CMAKE_BINARY_DIR}
    LABELS heavy
    FIXTURES sanitized
    ALONE
    TIMEOUT 1800)
  foreach(name IN LISTS fuzz_names)
    motherbulb_test(
      heavy/fuzz/${name}
      COMMAND tests/heavy fuzz ${CMAKE_BINARY_DIR} ${name} ${fuzz_seconds}
      LABELS heavy
      FIXTURES sanitized
      TIMEOUT 300)
  endforeach()
  # The page, and what it does in real browsers.
  motherbulb_test(
    heavy/web/build
    COMMAND tests/heavy web-build ${CMAKE_BINARY_DIR}
    LABELS heavy
    ALONE
    TIMEOUT 1800)
  set_tests_properties(heavy/web/build PROPERTIES FIXTURES_SETUP page)
  file(GLOB web_files CONFIGURE_DEPENDS RELATIVE ${CMAKE_SOURCE_DIR}/tests/web ${CMAKE_SOURCE_DIR}/tests/web/*_test.mjs)
  foreach(file IN LISTS web_files)
    string(REPLACE "_test.mjs" "" name ${file})
    set(runner "")
    if(name STREQUAL "other_browsers")
      set(runner xvfb-run -a) # one of them has no other way than a window
    endif()
    motherbulb_test(
      web/${name}
      COMMAND ${runner} tests/heavy web ${CMAKE_BINARY_DIR} ${file}
      LABELS heavy
      FIXTURES page
      TIMEOUT 900)
    if(runner)
      set_tests_properties(web/${name} PROPERTIES RESOURCE_LOCK display)
    endif()
  endforeach()
  # What the page shows is compared with what this one has drawn.
  set_tests_properties(window/page_twin_test PROPERTIES FIXTURES_SETUP desktop_pictures)
  set_tests_properties(web/pictures PROPERTIES FIXTURES_REQUIRED "page;desktop_pictures")
endif()
