# Every source of the bench by name, one a line, relative to tests/bench/ (one of them has main).
set(MOTHERBULB_BENCH_SOURCES
bare.cpp
due.cpp
frames.cpp
main.cpp
season.cpp
science.cpp
)
