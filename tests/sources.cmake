# Every source of the unit tests by name, one a line, relative to tests/. Each NAME_test.cpp becomes one ctest test.
set(MOTHERBULB_TESTS_SOURCES
core/counting_test.cpp
core/demo_test.cpp
core/label_test.cpp
core/logbook_test.cpp
core/names_test.cpp
core/table_cells_test.cpp
core/table_export_test.cpp
core/table_row_test.cpp
core/table_test.cpp
platform/desktop_host_test.cpp
platform/files_test.cpp
shared/codec_test.cpp
shared/day_test.cpp
shared/digest_test.cpp
shared/entry_test.cpp
shared/golden_test.cpp
shared/ids_test.cpp
shared/parcel_test.cpp
shared/text_test.cpp
shared/units_test.cpp
faults/power_vfs.cpp
faults/power_vfs_test.cpp
)
# Python files in tests/ that a test imports or calls, and that are no test themselves. Every other tests/*.py is one.
set(MOTHERBULB_PYTHON_HELPERS
)
