// What of SDL the page has no use for. Read before every file of SDL's own.
#pragma once

#define SDL_AUDIO_DISABLED 1
#define SDL_JOYSTICK_DISABLED 1
#define SDL_SENSOR_DISABLED 1
#define SDL_POWER_DISABLED 1
#define SDL_LOADSO_DISABLED 1
// Drawing on surfaces in memory: the page draws by OpenGL ES alone.
#define SDL_LEAN_AND_MEAN 1
