// The app: draws one frame of the screen we are on, takes at most one wish from it, carries that out against the book,
// and remembers what came of it. Nothing else changes the book from here.
//
// Kept means kept: the slip appears only once the book has answered that it is on the disk. What the book refuses or
// fails to keep stays as a draft, with the reason in words on a strip until it is mended or put aside.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/book_rows.hpp"
#include "app/fonts.hpp"
#include "app/motion.hpp"
#include "app/reckoning.hpp"
#include "app/theme.hpp"
#include "app/touch_map.hpp"
#include "app/ui_state.hpp"
#include "core/host.hpp"
#include "core/logbook.hpp"

struct ImDrawList;
struct ImFontAtlas;

namespace motherbulb {

struct PlanClone;

// How safe what the book wrote is, on a device whose disk answers later (a browser's storage).
struct Safety {
  enum class State { safe, on_its_way, failed } state = State::safe;
  std::string why;  // of failed: in words, with what would mend it
};

// What a device says of the room in which it keeps the book, where it may take it back (a browser).
struct DeviceStorage {
  bool known = false;
  bool lasting = true;           // false: the device may clear it when it needs the room
  double used = 0, allowed = 0;  // bytes; 0: unknown
};

// What the app asks of the device beside core/host.hpp. Left empty, it finds nothing.
struct Surroundings {
  // Parcels in the book's folder and on plugged-in sticks.
  std::function<std::vector<FoundParcel>()> look_for_parcels;
  std::function<Result<FoundParcel>(const std::string& path)> look_at_file;
  std::function<Result<std::unique_ptr<ByteSource>>(const std::string& path)> open_file;
  // Where parcels and backups can go: the book's folder first, then the sticks.
  std::function<std::vector<PlaceToWrite>()> places_to_write;
  std::function<bool(const std::string& path)> file_is_there;
  // What is written stands there whole once it is committed, or not at all.
  std::function<Result<std::unique_ptr<ByteSink>>(const std::string& path)> write_file;
  // A file stands whole under that path. Where a device has no folders that a person can reach, it goes out to them
  // here.
  std::function<void(const std::string& path)> hand_over;
  // Asks the person for parcels; each that is chosen comes to take_dropped, later. Left empty where folders are looked
  // through instead.
  std::function<void()> pick_files;
  // Left empty where the disk has answered by the time that the book has: then what the book kept is safe. Else nothing
  // counts as kept, and nothing else is taken up, before this says so; where it says `failed`, the store's files are
  // put back by `take_back` (called while they are closed) and what was asked for stays as a draft.
  std::function<Safety()> safety;
  std::function<Outcome()> take_back;
  std::function<DeviceStorage()> storage;
  // Goes over to the demo, a book of its own; the screens come from there then. Left empty where that is a command.
  std::function<void()> open_demo;
  // Lets a person leave this book, which is damaged, for a new one in its place. Left empty where that is a command.
  std::function<void()> set_aside;

  // The camera, where the device has one; all three or none. Once it is started, its picture lies over UiState's
  // scan.picture, and what it reads comes by App::take_code, until it is stopped. It may be refused at once (the
  // Outcome, in words for a person) or later (App::camera_failed).
  std::function<Outcome()> start_camera;
  std::function<void()> stop_camera;
  // Holds a parcel that came as bytes, so that open_file opens it by its path for as long as the program runs. Under a
  // name that is held already it is held beside that one, by another path.
  std::function<Result<FoundParcel>(std::string name, std::vector<std::uint8_t> bytes)> take_in_bytes;

  // Where the screens' own thread must not wait: begins that beside it (reckoning.hpp), answers by
  // App::reckoning_goes_on and, once, App::reckoned, both later. Given up by stop_reckoning, after which nothing more
  // of it may come. Left empty it is reckoned at once, under `breathe`. Both or none.
  std::function<void(const ReckonJob& job)> start_reckoning;
  std::function<void()> stop_reckoning;
  // Asks it to answer soon with the best that it has found by then. Left empty where it cannot be asked.
  std::function<void()> hurry_reckoning;
};

// What the window does while long work goes on: shows how far it is, and says whether to go on (false: a person asked
// to stop).
using Breathe = std::function<bool(double share)>;

struct FrameWish {
  float width = 0;  // dp
  float height = 0;
  double time_ms = 0;  // of a steady clock
};

struct AppWish {
  std::string helper;  // whose taps these are; empty: asked for on the first act
  Settings settings;
  HandedOut handed_out;
};

class App {
public:
  App(Logbook& book, Host& host, Surroundings surroundings, const AppWish& wish);

  void build_fonts(ImFontAtlas& atlas, const std::string& folder, float scale);
  void frame(ImDrawList& list, const FrameWish& wish);
  // Carries out what the frame asked for, once it is over. True where there was something.
  bool act();
  void set_breathe(Breathe breathe) { breathe_ = std::move(breathe); }
  // A file dropped on the window.
  void take_dropped(const std::string& path);
  // The device's own way back: as the Back key of the screen, else to the start. False: this is the start.
  bool step_back();
  // Something is begun that closing the window would lose.
  [[nodiscard]] bool has_unsaved() const;
  // What the camera read off one code, whatever it is; anywhere but on Screen::scan nothing. When that completes a
  // parcel the camera is stopped, and the parcel waits on Screen::merge as a dropped file does. The window's side asks
  // for a frame behind it, and behind the next.
  void take_code(const std::vector<std::uint8_t>& bytes);
  // The camera that was started gives no picture: a person refused it, or it is gone. Need not be stopped any more.
  void camera_failed(const Error& why);
  // Of a reckoning that goes on beside: how far it is, and what a plan aims at (0: not known yet). What came of it.
  // The window's side asks for a frame behind each.
  void reckoning_goes_on(double share, std::int64_t target);
  void reckoned(Result<ReckonAnswer> answer);

  [[nodiscard]] TouchMap& touch() { return touch_; }
  [[nodiscard]] Fonts& fonts() { return fonts_; }
  [[nodiscard]] const UiState& ui() const { return ui_; }
  [[nodiscard]] Color ground() const;
  [[nodiscard]] bool moving() const { return touch_.moving() || motion_.moving(); }
  // Something was written down and the disk has not answered yet: whoever hands over touches holds them back so long.
  [[nodiscard]] bool awaits_disk() const { return awaited_ != nullptr; }
  // Asks the disk. True where it has answered, so that a frame should be drawn.
  bool ask_disk();
  // How long the window may sleep: -1 without end.
  [[nodiscard]] int wait_ms(double now_ms) const;
  // Called when that time has passed with nothing happening. True where a frame should be drawn.
  bool idle(double now_ms);

private:
  // While it lives, long work is under way: the window shows it and can stop it.
  class Busy : public Progress {
  public:
    Busy(App& app, std::string words);
    ~Busy() override;
    Busy(const Busy&) = delete;
    Busy& operator=(const Busy&) = delete;
    bool go_on(double share) override;

  private:
    App& app_;
  };
  struct Work {
    std::string words;
    double share = 0;
    bool stop = false;
    bool beside = false;       // the screen goes on meanwhile: work that does not touch the book
    bool given_up = false;     // stopped because something else was asked for beside it
    std::optional<Wish> then;  // that
    // What is reckoned, and of what; `elsewhere`: by the device, beside this thread.
    std::optional<ReckonJob> job;
    OutlookDraft::Basis basis;
    bool elsewhere = false;
    std::optional<double> hurried_ms;  // since when it is asked to answer with what it has
  };

  void refresh_rows();
  void look_at_storage();
  void note_handed_out(std::uint64_t upto);
  bool go_on_working(double share);  // false: a person asked to stop
  void give_up_work();
  void end_work_elsewhere();
  void carry_out(const Wish& wish);
  void go(const Go& to);
  void go_to_place(Screen to);  // one of the bar's
  void go_back();
  void arrive();
  // What hindered it; none: all of it is kept, and the slip says so.
  using Then = std::function<void(const std::optional<Error>& hindered)>;
  void keep(std::vector<Command> commands, std::string words, Then then);
  void when_safe(Then then);
  void ask_or_fail(const Keep& wish, const std::string& despite, const Error& hindered);
  void take_up_again(const Kept& undone);
  void keep(const Keep& wish, bool sure, const std::string& despite = {});
  void answer_why(const std::string& why);
  void keep_count(bool sure);
  void undo();
  void look_for_parcels();
  void look_for_places();
  void hand_out(const HandOut& wish);
  void show_codes(const ShowCodes& wish);
  [[nodiscard]] bool codes_go_round() const;
  bool turn_code(double now_ms);  // to the next, where it is time
  void start_camera();
  void stop_camera();
  void take_in(const FoundParcel& file);
  enum class DroppedKind { parcel, table, backup };
  [[nodiscard]] DroppedKind kind_of(const FoundParcel& file) const;
  // A backup's bytes are those that were read when it was dropped.
  [[nodiscard]] Result<std::unique_ptr<ByteSource>> open_parcel(const FoundParcel& file) const;
  Outcome read_backup(const FoundParcel& file);
  void take_table();
  void write_table(const WriteTable& wish);
  void back_up(const BackUp& wish);
  void check_book();
  void write_out(const WriteOut& wish);
  void reckon(const Reckon& wish);
  [[nodiscard]] std::shared_ptr<const std::vector<PlanClone>> known_clones(const OutlookDraft::Basis& basis) const;
  void reckon_here();
  void end_reckoning(Result<ReckonAnswer> answer);
  [[nodiscard]] bool is_to_stop() const;            // what is reckoned
  [[nodiscard]] bool may_still_answer();            // though it is to stop
  static constexpr double hurried_for_ms = 15'000;  // what is found is still walked through chance
  // Writes it there whole, or not at all.
  Outcome write_whole(const std::string& path, const std::function<Outcome(ByteSink&)>& fill);
  // A path in that folder for a new file: what, who, where, the day; with a number behind it where that is taken.
  [[nodiscard]] std::string new_path(const std::string& folder, const std::vector<std::string>& parts,
                                     std::string_view ending);
  void merge();
  void settle(const std::vector<std::pair<Matter, Take>>& answers);
  void choose_pot(const PotRow& row);
  void next_pot();
  void fail(std::string_view title, const Error& error);
  [[nodiscard]] When now();

  Logbook& book_;
  Host& host_;
  Surroundings surroundings_;
  BookRows rows_;
  UiState ui_;
  Fonts fonts_;
  TouchMap touch_;
  Motion motion_;
  std::vector<std::string> missing_fonts_;
  std::optional<Wish> asked_;
  Breathe breathe_;
  std::optional<Work> work_;
  EntryId only_here_;  // this device's first entry that lies nowhere else, and when it was written; none: there is none
  std::optional<std::int64_t> only_here_ms_;
  Then awaited_;  // what follows once the disk has answered
  double awaited_since_ms_ = 0;
  bool rest_due_ = false;
  double last_change_ms_ = 0;
  double last_look_ms_ = 0;
  double last_act_ms_ = 0;
  double code_since_ms_ = 0;  // the code on the screen is there
  double frame_ms_ = 0;
  Day drawn_day_;
};

}  // namespace motherbulb
