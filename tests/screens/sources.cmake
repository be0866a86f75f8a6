# Every source of the window tests by name, one a line, relative to tests/screens/. They run under Xvfb.
set(MOTHERBULB_SCREENS_SOURCES
    clones_test.cpp
    cut_test.cpp
    drive.cpp
    idle_test.cpp
    look_test.cpp
    merge_test.cpp
    parts_test.cpp
    picture_check.cpp
    remembered_test.cpp
    theme_test.cpp
    touch_map_test.cpp
    unpot_test.cpp
    words_test.cpp
)
