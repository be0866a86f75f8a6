# Every source of the window tests by name, one a line, relative to tests/screens/. They run under Xvfb.
set(MOTHERBULB_SCREENS_SOURCES
)
