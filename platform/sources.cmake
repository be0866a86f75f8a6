# Every source of platform/ by name, one a line, in order of the alphabet.
set(MOTHERBULB_PLATFORM_SOURCES
    desktop/nearby.cpp
  desktop/remembered.cpp
    desktop/window.cpp
  desktop_host.cpp
  files.cpp
)
