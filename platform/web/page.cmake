# The page: one folder of static files, complete in itself. Read by CMakeLists.txt.

# What reckons long runs quickly; all else is small, what draws and what reckons once alike. After -Oz emscripten leaves
# every call in place, the smallest too, for the linker to decide: here the compiler is to.
set(long_reckoning "")
foreach(
  name
  draws extinction growth_rate outlook paths perron plan_solver season_plan stochastic_growth two_ways yield_likelihood
  yields)
  list(APPEND long_reckoning core/science/${name}.cpp)
endforeach()
set_source_files_properties(${long_reckoning} PROPERTIES COMPILE_OPTIONS "-O2;-finline-functions" SKIP_PRECOMPILE_HEADERS
                                                                                                  ON)

# What most files read is read once: most of the wait is for headers. Only here; the other builds show a file that leans
# on it. Without ccache, which takes an older one for the same.
target_precompile_headers(core PRIVATE <algorithm> <functional> <map> <set> core/logbook.hpp)
target_precompile_headers(app PRIVATE <algorithm> <functional> <map> <set> app/screens/screens.hpp app/words.hpp)
target_precompile_headers(command_line PRIVATE <algorithm> <functional> <map> <set> app/cli/command.hpp)
set_target_properties(core app command_line PROPERTIES CXX_COMPILER_LAUNCHER "")

add_executable(motherbulb_page app/main_web.cpp)
set_target_properties(motherbulb_page PROPERTIES OUTPUT_NAME motherbulb SUFFIX .js)
target_link_libraries(motherbulb_page PRIVATE motherbulb_rules app platform core shared)
target_link_options(
  motherbulb_page
  PRIVATE
  -Oz
  --no-entry
  -fwasm-exceptions
  -sSUPPORT_LONGJMP=wasm
  -sENVIRONMENT=web,worker
  -sMODULARIZE=1
  -sEXPORT_NAME=createMotherbulb
  -sDYNAMIC_EXECUTION=0
  -sALLOW_MEMORY_GROWTH=1
  -sINITIAL_MEMORY=67108864
  -sMAXIMUM_MEMORY=2147483648
  -sEXPORTED_FUNCTIONS=_malloc,_free
  -sEXPORTED_RUNTIME_METHODS=FS,UTF8ToString,stringToNewUTF8,stringToUTF8,lengthBytesUTF8)

# The same program for node: the command line as the page reckons it, for tests.
add_executable(motherbulb_node EXCLUDE_FROM_ALL tests/web/node_main.cpp)
set_target_properties(motherbulb_node PROPERTIES OUTPUT_NAME motherbulb_node SUFFIX .js)
target_link_libraries(motherbulb_node PRIVATE motherbulb_rules command_line app platform core shared)
target_link_options(
  motherbulb_node
  PRIVATE
  -O1
  -fwasm-exceptions
  -sSUPPORT_LONGJMP=wasm
  -sENVIRONMENT=node
  -sNODERAWFS=1
  -sEXIT_RUNTIME=1
  -sALLOW_MEMORY_GROWTH=1
  -sINITIAL_MEMORY=67108864
  -sMAXIMUM_MEMORY=2147483648)
