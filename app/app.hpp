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
#include "app/theme.hpp"
#include "app/touch_map.hpp"
#include "app/ui_state.hpp"
#include "core/host.hpp"
#include "core/logbook.hpp"

struct ImDrawList;
struct ImFontAtlas;

namespace motherbulb {

struct PlanClone;

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

  [[nodiscard]] TouchMap& touch() { return touch_; }
  [[nodiscard]] Fonts& fonts() { return fonts_; }
  [[nodiscard]] const UiState& ui() const { return ui_; }
  [[nodiscard]] Color ground() const;
  [[nodiscard]] bool moving() const { return touch_.moving() || motion_.moving(); }
  // How long the window may sleep: -1 without end.
  [[nodiscard]] int wait_ms(double now_ms) const;
  // Called when that time has passed with nothing happening. True where a frame should be drawn.
  bool idle(double now_ms);

private:
  // While it lives, long work is under way: the window shows it and can stop it.
  class Busy : public Progress {
  public:
    // `beside`: the screen goes on meanwhile; work that does not touch the book.
    enum class Beside { no, yes };
    Busy(App& app, std::string words, Beside beside = Beside::no);
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
    bool beside = false;
    bool given_up = false;     // stopped because something else was asked for beside it
    std::optional<Wish> then;  // that
  };

  void refresh_rows();
  void give_up_work();
  void carry_out(const Wish& wish);
  void go(const Go& to);
  void go_to_place(Screen to);  // one of the bar's
  void go_back();
  void arrive();
  // What hindered it; none: all of it is kept, and the slip says so.
  std::optional<Error> keep(std::vector<Command> commands, std::string words);
  void keep(const Keep& wish, bool sure, const std::string& despite = {});
  void answer_why(const std::string& why);
  void keep_count(bool sure);
  void undo();
  void look_for_parcels();
  void look_for_places();
  void hand_out(const HandOut& wish);
  void back_up(const BackUp& wish);
  void check_book();
  void write_out(const WriteOut& wish);
  void reckon(const Reckon& wish);
  void plan_season(const OutlookDraft::Basis& basis);
  Result<std::shared_ptr<const std::vector<PlanClone>>> clones_of_plan(const OutlookDraft::Basis& basis,
                                                                       const std::function<bool(double)>& go_on);
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
  bool rest_due_ = false;
  double last_change_ms_ = 0;
  double last_look_ms_ = 0;
  double last_act_ms_ = 0;
  double frame_ms_ = 0;
  Day drawn_day_;
};

}  // namespace motherbulb
