# Every source of core/ by name, one a line, in order of the alphabet.
set(MOTHERBULB_CORE_SOURCES
  label.cpp
  names.cpp
  table_cells.cpp
)
