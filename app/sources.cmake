# Every source of app/ by name, one a line, in order of the alphabet. main.cpp is the program, not the library.
set(MOTHERBULB_APP_SOURCES
)
