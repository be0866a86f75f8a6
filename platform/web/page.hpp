// What the program asks of the page round it. Each is carried out by platform/web/page/page.js at once, but for what it
// says otherwise.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace motherbulb::page {

// A text kept by the page under a name, apart from the book (the browser's local storage); empty where there is none.
std::string remembered(const std::string& name);
void remember(const std::string& name, const std::string& text);

// Minutes east of UTC at that moment, by the device's zone.
std::int32_t offset_minutes(std::int64_t utc_ms);

// Takes the file that stands whole under that path out to the person: saved where the browser saves things, or, where
// `share`, by the device's own sheet. The file here is gone afterwards.
void hand_over(const std::string& path, bool share);
bool can_share();

// Asks the person for parcels; each that is chosen comes as a dropped file, later.
void pick_files();

// The camera: whether the browser lets a page ask for one at all. What it reads comes by motherbulb_code, and that it
// gives no picture by motherbulb_camera_failed, later.
bool has_camera();
void start_camera();
void stop_camera();

// Hands a job to the page's second worker, which runs this same program: what it makes of it comes by
// motherbulb_reckoned, and before that by motherbulb_reckoning_goes_on. With the book's files, or without.
void start_reckoning(const std::vector<std::uint8_t>& job, bool with_book);
void stop_reckoning();
// Lets it end with what it has found by then.
void hurry_reckoning();
// Asked from there: false once it shall end so. And said from there.
bool reckoning_is_wanted();
void reckoning_goes_on(double share, std::int64_t target);

// Leaves this book for the demo's, which is one of its own.
void open_demo();

// Asks the person to save this book's file, and then whether a new one shall begin here. Left as it is, all goes on.
void set_aside();

// Calls motherbulb_step soon. By SDL too, whenever anything happens to the window.
void wake();
void wake_on_window_events();

}  // namespace motherbulb::page
