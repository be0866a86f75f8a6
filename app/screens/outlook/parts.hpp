// The panels of a clone's outlook: each knows its height for a width, and is drawn where its column puts it.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/outlook_picture.hpp"
#include "app/plan_picture.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/fan.hpp"
#include "app/widgets/ladder.hpp"

namespace motherbulb::ahead {

inline constexpr float gap = 8;
inline constexpr float between = 18;  // panels

// The margin at both sides inside a panel.
[[nodiscard]] inline float across(const ScreenView& view) {
  return view.layout.phone() ? 16.0F : 26.0F;
}

// What is shown of a picture for what is wanted.
struct Shown {
  std::shared_ptr<const OutlookPicture> of;
  OutlookDraft::Wanted wanted;
  std::optional<double> chance;
  FanView fan;
  LadderView ladder;
  std::vector<std::pair<std::string, double>> levers;       // in words, and by how many bulbs
  std::vector<std::pair<std::string, std::string>> places;  // how many, and the chance that all are lost
  std::string places_said;
  std::vector<std::string> missing;
};

struct Panel {
  float height = 0;
  std::function<std::optional<Wish>(Rect)> draw;
};

// "-" and "+" at the ends of a row, what they change between them: a control of its own, or words.
struct Stepped {
  int by = 0;
  bool middle = false;
};
struct Stepper {
  std::string name;  // its controls are NAME:less, NAME:more, NAME:type
  std::string said;
  bool less = true, more = true;
  bool opens = false;
};
[[nodiscard]] Stepped draw_stepper(Pen& pen, Rect row, const Stepper& stepper);

// What the screen's reckonings rest on now.
[[nodiscard]] OutlookDraft::Basis basis_now(const ScreenView& view);
// What is wanted of the clone that the screen is about; without a name of all together.
[[nodiscard]] OutlookDraft::Wanted& wanted_of(ScreenView& view);
// "November 2030": when a season from now is over.
[[nodiscard]] std::string month_after(const ScreenView& view, std::size_t seasons);
[[nodiscard]] std::string year_after(const ScreenView& view, std::size_t seasons);
// "22" of 220 mm.
[[nodiscard]] std::string girth_words(std::int32_t girth_mm);
// "72 in 100", "1 in 160", "under 1 in a million".
[[nodiscard]] std::string chance_words(double chance);
[[nodiscard]] std::string rounded_words(double count);
// "2.6", "3", "48": what says enough.
[[nodiscard]] std::string few_words(double count);
// With words in place of the numbers of sources, as "S17": the grower has no list of them.
[[nodiscard]] std::string without_numbers_of_sources(const std::string& sentence);

// Makes `shown` anew where it is not of what is wanted now.
void refresh_shown(ScreenView& view);

// One below the other from `top` on; those out of sight are passed over.
std::optional<Wish> draw_column(Rect area, float top, const std::vector<Panel>& panels, Rect sight);
[[nodiscard]] float column_height(const std::vector<Panel>& panels);
// Two columns that scroll as one, and below both what takes the whole width.
std::optional<Wish> draw_columns(Pen& pen, std::string_view scroll, Rect area, const Layout::Columns& columns,
                                 const std::vector<Panel>& reading, const std::vector<Panel>& acting,
                                 const Panel& below);
// One sentence and one act where there is nothing else to show.
std::optional<Wish> draw_nothing(ScreenView& view, std::string_view sentence, std::string_view target,
                                 std::string_view act, const Wish& wish);

// The keys for the number that is being typed, in place of a panel.
[[nodiscard]] Panel typing_panel(ScreenView& view);

[[nodiscard]] Panel chance_panel(ScreenView& view, float width);
[[nodiscard]] Panel fan_panel(ScreenView& view, float width, float height);
[[nodiscard]] Panel ladder_panel(ScreenView& view, float width);
[[nodiscard]] Panel levers_panel(ScreenView& view, float width);
[[nodiscard]] Panel places_panel(ScreenView& view, float width);
// What was taken in place of what the book does not tell.
[[nodiscard]] Panel missing_panel(ScreenView& view, float width, const std::vector<std::string>& missing);

// ------------------------------------------------------------------------------------------------ this season

// Mothers of one class that are cut in one way.
struct CutAct {
  std::size_t clone = 0, of_class = 0;  // of that clone
  Method method = Method::chipping;
  std::int32_t sections = 0;
  Grade grade;
  std::int64_t count = 0, of = 0;
  double each = 0;
};

// The first season of one clone's plan, act by act.
struct FirstSeason {
  std::vector<CutAct> cuts;  // the most mothers first
  std::int64_t grown_on = 0, large = 0, pieces = 0, cut = 0;
  std::vector<std::pair<Grade, std::int64_t>> sold;
  std::int32_t from_mm = 0;  // the least end of the classes that are large enough to be cut
};

// A line of the plan in words; without an icon the name of the clone that those below it are about.
struct PlanSentence {
  std::optional<Icon> icon;
  std::string title, line;
};

// A cutting session that the plan asks for: mothers that stand in one pot, or wait in one batch.
struct PlanSession {
  std::string said;  // "Cut 3 from pot 26B014-B/1"
  std::string clone, genus;
  Method method = Method::chipping;
  std::int32_t sections = 0;
  BatchId batch;
  std::int32_t pot = 0;
  std::map<Grade, std::int64_t> mothers;
};

// What a plan says, made ready to draw.
struct PlanTold {
  std::shared_ptr<const PlanPicture> of;
  std::vector<FirstSeason> clones;  // as the picture has them
  std::int64_t cut = 0, large = 0;  // of all
  std::vector<PlanSentence> sentences;
  std::vector<PlanSession> sessions;
  std::vector<std::string> advice, missing;
};

// Makes `told` anew where it is not of the plan that is there. None: there is no plan to tell.
[[nodiscard]] std::shared_ptr<const PlanTold> told_of(ScreenView& view);
// Why there is no plan, limit by limit.
[[nodiscard]] std::vector<std::string> in_the_way_words(const ScreenView& view, const SeasonPlan& plan);
// The cutting session's draft as the plan has it.
void fill_session(CutDraft& draft, const PlanSession& session);

// Whether a plan must be worked out: what is wanted now was not tried yet, and is not under way.
[[nodiscard]] bool plan_is_due(ScreenView& view);
// What to cut, what to grow on, what to sell; and beside it other ways. `with_limits`: a link leads to them.
[[nodiscard]] Panel plan_panel(ScreenView& view, float width, bool with_limits);
// What is wanted and within what limits, to be changed; and what comes of it.
[[nodiscard]] Panel limits_panel(ScreenView& view, float width);
// The plan in sentences, each with its reason.
[[nodiscard]] Panel advice_panel(ScreenView& view, float width);

}  // namespace motherbulb::ahead
