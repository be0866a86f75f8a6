# Every source of shared/ by name, one a line, in order of the alphabet.
set(MOTHERBULB_SHARED_SOURCES
  blocks.cpp
  day.cpp
  digest.cpp
  entry.cpp
  ids.cpp
  parcel_codes.cpp
  parcel_reader.cpp
  parcel_writer.cpp
  text.cpp
  units.cpp
)
