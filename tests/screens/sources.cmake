# Every source of the window tests by name, one a line, relative to tests/screens/. They run under Xvfb.
set(MOTHERBULB_SCREENS_SOURCES
    drive.cpp
    first_test.cpp
    idle_test.cpp
    look_test.cpp
    merge_test.cpp
    parcels_test.cpp
    parts_test.cpp
    picture_check.cpp
    remembered_test.cpp
    settings_test.cpp
    theme_test.cpp
    touch_map_test.cpp
    unpot_test.cpp
    who_test.cpp
    words_test.cpp
)
