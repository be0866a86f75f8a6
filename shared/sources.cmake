# Every source of shared/ by name, one a line, in order of the alphabet.
set(MOTHERBULB_SHARED_SOURCES
  day.cpp
  entry.cpp
  ids.cpp
  units.cpp
)
