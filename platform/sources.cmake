# Every source of platform/ by name, one a line, in order of the alphabet. desktop/ is left out of the web page, and web/
# of everything else.
set(MOTHERBULB_PLATFORM_SOURCES
  desktop/nearby.cpp
  desktop_host.cpp
  files.cpp
  found_file.cpp
  recorded_disk.cpp
  remembered.cpp
  sdl_window.cpp
  web/page.cpp
  web/page_files.cpp
  web/web_host.cpp
)
