# Each file here is one fuzz target (LLVMFuzzerTestOneInput); its corpus is in tests/fuzz/corpus/NAME/.
set(MOTHERBULB_FUZZ_SOURCES
)
