# The libraries of the web page, from Debian's source packages (platform/web/fetch_sources), compiled as they are. Read
# by CMakeLists.txt in place of the installed ones; the same targets come of it.

set(MOTHERBULB_WEB_SOURCES ${CMAKE_SOURCE_DIR}/build/web-sources CACHE PATH "where platform/web/fetch_sources put them")
execute_process(COMMAND ${CMAKE_SOURCE_DIR}/platform/web/fetch_sources ${MOTHERBULB_WEB_SOURCES} RESULT_VARIABLE fetched)
if(NOT fetched EQUAL 0)
  message(FATAL_ERROR "The sources of the libraries could not be fetched; the reason stands above.")
endif()
enable_language(C)
set(web_sources ${MOTHERBULB_WEB_SOURCES})

# Others' code: no warnings of it, and small.
add_library(web_others INTERFACE)
target_compile_options(web_others INTERFACE -w -Oz)
target_compile_definitions(web_others INTERFACE NDEBUG)

function(motherbulb_web_library target)
  cmake_parse_arguments(given "" "" "SOURCES;INCLUDES;OPTIONS;SEEN" ${ARGN})
  file(GLOB files ${given_SOURCES})
  if(NOT files)
    message(FATAL_ERROR "${target}: none of ${given_SOURCES} stands there.")
  endif()
  add_library(${target} STATIC ${files})
  target_include_directories(${target} PRIVATE ${given_INCLUDES})
  target_include_directories(${target} SYSTEM INTERFACE ${given_SEEN})
  target_compile_options(${target} PRIVATE ${given_OPTIONS})
  target_link_libraries(${target} PRIVATE web_others)
endfunction()

# --- window, input, drawing
set(sdl ${web_sources}/libsdl2)
set(sdl_folders "")
foreach(
  folder
  . atomic audio audio/dummy cpuinfo dynapi events file filesystem/emscripten haptic haptic/dummy hidapi joystick
  joystick/dummy libm loadso/dummy locale locale/emscripten misc misc/emscripten power power/emscripten render
  render/opengles2 render/software sensor sensor/dummy stdlib thread thread/generic timer timer/unix video
  video/emscripten video/yuv2rgb video/dummy)
  list(APPEND sdl_folders ${sdl}/src/${folder}/*.c)
endforeach()
motherbulb_web_library(
  web_sdl
  SOURCES ${sdl_folders}
  INCLUDES ${sdl}/include ${sdl}/src/video/khronos
  SEEN ${sdl}/include
  OPTIONS -include ${CMAKE_SOURCE_DIR}/platform/web/sdl_choice.h)

# --- screens
file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/freetype)
file(WRITE ${CMAKE_BINARY_DIR}/freetype/modules.h
     "FT_USE_MODULE( FT_Module_Class, autofit_module_class )
FT_USE_MODULE( FT_Driver_ClassRec, tt_driver_class )
FT_USE_MODULE( FT_Driver_ClassRec, cff_driver_class )
FT_USE_MODULE( FT_Module_Class, psaux_module_class )
FT_USE_MODULE( FT_Module_Class, psnames_module_class )
FT_USE_MODULE( FT_Module_Class, pshinter_module_class )
FT_USE_MODULE( FT_Module_Class, sfnt_module_class )
FT_USE_MODULE( FT_Renderer_Class, ft_smooth_renderer_class )
")
set(freetype ${web_sources}/freetype)
motherbulb_web_library(
  web_freetype
  SOURCES ${freetype}/src/autofit/autofit.c
          ${freetype}/src/base/ftbase.c
          ${freetype}/src/base/ftbbox.c
          ${freetype}/src/base/ftbitmap.c
          ${freetype}/src/base/ftdebug.c
          ${freetype}/src/base/ftglyph.c
          ${freetype}/src/base/ftinit.c
          ${freetype}/src/base/ftsynth.c
          ${freetype}/src/base/ftmm.c
          ${freetype}/src/base/ftsystem.c
          ${freetype}/src/cff/cff.c
          ${freetype}/src/gzip/ftgzip.c
          ${freetype}/src/psaux/psaux.c
          ${freetype}/src/pshinter/pshinter.c
          ${freetype}/src/psnames/psnames.c
          ${freetype}/src/sfnt/sfnt.c
          ${freetype}/src/smooth/smooth.c
          ${freetype}/src/truetype/truetype.c
  INCLUDES ${freetype}/include
  SEEN ${freetype}/include
  OPTIONS -fwasm-exceptions -sSUPPORT_LONGJMP=wasm -DFT2_BUILD_LIBRARY "-DFT_CONFIG_MODULES_H=\"${CMAKE_BINARY_DIR}/freetype/modules.h\"")

set(imgui ${web_sources}/imgui)
motherbulb_web_library(
  web_imgui
  SOURCES ${imgui}/imgui.cpp ${imgui}/imgui_draw.cpp ${imgui}/imgui_tables.cpp ${imgui}/imgui_widgets.cpp
          ${imgui}/misc/freetype/imgui_freetype.cpp
  INCLUDES ${imgui} ${imgui}/misc/freetype
  OPTIONS -fwasm-exceptions
  SEEN ${imgui} ${imgui}/misc/freetype)
target_link_libraries(web_imgui PUBLIC web_freetype)

# --- the store
set(sqlite ${web_sources}/sqlite3)
set(sqlite_one ${CMAKE_BINARY_DIR}/sqlite)
add_custom_command(
  OUTPUT ${sqlite_one}/sqlite3.c ${sqlite_one}/sqlite3.h
  COMMAND ${CMAKE_COMMAND} -E make_directory ${sqlite_one}
  # Made by this machine's own compiler, not by the one for the web.
  COMMAND ${CMAKE_COMMAND} -E env --unset=CC --unset=CXX --unset=CFLAGS --unset=AR --unset=RANLIB CC=gcc sh -c
          "${sqlite}/configure --disable-tcl > configure.out 2>&1 && make sqlite3.c > make.out 2>&1"
  WORKING_DIRECTORY ${sqlite_one}
  DEPENDS ${web_sources}/sqlite3.version
  VERBATIM)
add_library(web_sqlite STATIC ${sqlite_one}/sqlite3.c)
target_include_directories(web_sqlite SYSTEM INTERFACE ${sqlite_one})
target_compile_definitions(
  web_sqlite
  PRIVATE SQLITE_THREADSAFE=0
          SQLITE_OMIT_LOAD_EXTENSION
          SQLITE_OMIT_DEPRECATED
          SQLITE_OMIT_SHARED_CACHE
          SQLITE_DEFAULT_MEMSTATUS=0
          SQLITE_MAX_MMAP_SIZE=0
          SQLITE_DQS=0)
target_link_libraries(web_sqlite PRIVATE web_others)
target_compile_options(web_sqlite PRIVATE -O2) # every question goes through it

# --- the plan
set(glpk ${web_sources}/glpk/src)
set(glpk_folders "")
set(glpk_includes "")
foreach(folder amd api bflib colamd draft env intopt minisat misc mpl npp proxy simplex zlib)
  list(APPEND glpk_folders ${glpk}/${folder}/*.c)
  list(APPEND glpk_includes ${glpk}/${folder})
endforeach()
motherbulb_web_library(
  web_glpk
  SOURCES ${glpk_folders}
  INCLUDES ${glpk} ${glpk_includes}
  SEEN ${glpk}
  OPTIONS -fwasm-exceptions -sSUPPORT_LONGJMP=wasm -O2)

# --- hashes, blocks, text, codes
set(sodium ${web_sources}/libsodium/src/libsodium)
file(READ ${sodium}/include/sodium/version.h.in sodium_version)
string(REPLACE "@VERSION@" "1.0.18" sodium_version "${sodium_version}")
string(REPLACE "@SODIUM_LIBRARY_VERSION_MAJOR@" "10" sodium_version "${sodium_version}")
string(REPLACE "@SODIUM_LIBRARY_VERSION_MINOR@" "3" sodium_version "${sodium_version}")
string(REPLACE "@SODIUM_LIBRARY_MINIMAL_DEF@" "" sodium_version "${sodium_version}")
file(CONFIGURE OUTPUT ${sodium}/include/sodium/version.h CONTENT "${sodium_version}" @ONLY)
file(GLOB_RECURSE sodium_files ${sodium}/*.c)
list(FILTER sodium_files EXCLUDE REGEX "aesni|avx|sse|ssse3|xmm6|armcrypto")
motherbulb_web_library(
  web_sodium
  SOURCES ${sodium_files}
  INCLUDES ${sodium}/include ${sodium}/include/sodium
  SEEN ${sodium}/include
  OPTIONS -DCONFIGURED=1 -DNATIVE_LITTLE_ENDIAN=1 -O2)

set(zstd ${web_sources}/libzstd/lib)
motherbulb_web_library(
  web_zstd
  SOURCES ${zstd}/common/*.c ${zstd}/compress/*.c ${zstd}/decompress/*.c
  INCLUDES ${zstd} ${zstd}/common
  SEEN ${zstd}
  OPTIONS -DZSTD_DISABLE_ASM=1 -DZSTD_LEGACY_SUPPORT=0 -DZSTD_NO_INLINE=1)

motherbulb_web_library(
  web_utf8proc
  SOURCES ${web_sources}/utf8proc/utf8proc.c
  INCLUDES ${web_sources}/utf8proc
  SEEN ${web_sources}/utf8proc
  OPTIONS -DUTF8PROC_STATIC)
target_compile_definitions(web_utf8proc INTERFACE UTF8PROC_STATIC)

motherbulb_web_library(
  web_fmt
  SOURCES ${web_sources}/fmtlib/src/format.cc
  INCLUDES ${web_sources}/fmtlib/include
  SEEN ${web_sources}/fmtlib/include
  OPTIONS -fwasm-exceptions)

set(qrencode ${web_sources}/qrencode)
motherbulb_web_library(
  web_qrencode
  SOURCES ${qrencode}/bitstream.c ${qrencode}/mask.c ${qrencode}/mmask.c ${qrencode}/mqrspec.c ${qrencode}/qrencode.c
          ${qrencode}/qrinput.c ${qrencode}/qrspec.c ${qrencode}/rsecc.c ${qrencode}/split.c
  INCLUDES ${qrencode}
  SEEN ${qrencode}
  OPTIONS -DMAJOR_VERSION=4 -DMINOR_VERSION=1 -DMICRO_VERSION=1 "-DVERSION=\"4.1.1\"" -DSTATIC_IN_RELEASE=static)

# --- under the names by which the rest of CMakeLists.txt knows them. Debian's header-only libraries are taken as they
# are; emcc does not look where they lie, and they must come after its own headers.
foreach(target lib_hash lib_sqlite lib_text lib_science lib_imgui lib_codes lib_sdl)
  add_library(${target} INTERFACE)
  target_compile_options(${target} INTERFACE "SHELL:-idirafter /usr/include")
endforeach()
target_link_libraries(lib_hash INTERFACE web_sodium web_zstd)
target_link_libraries(lib_sqlite INTERFACE web_sqlite)
target_link_libraries(lib_text INTERFACE web_utf8proc web_fmt)
target_compile_options(lib_science INTERFACE "SHELL:-isystem /usr/include/eigen3")
target_link_libraries(lib_science INTERFACE web_glpk)
target_link_libraries(lib_imgui INTERFACE web_imgui)
target_link_libraries(lib_codes INTERFACE web_qrencode)
target_link_libraries(lib_sdl INTERFACE web_sdl)
