# Each file here is one fuzz target (LLVMFuzzerTestOneInput); it makes its own seeds (tests/fuzz/seeds.hpp). What was
# found once and mended is in tests/fuzz/corpus/NAME/.
set(MOTHERBULB_FUZZ_SOURCES
codes_fuzz.cpp
parcel_fuzz.cpp
store_fuzz.cpp
table_fuzz.cpp
)
