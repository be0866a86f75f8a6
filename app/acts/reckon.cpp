// Reckoning what a screen of the mathematics shows, under progress and "Stop".

#include "app/app.hpp"
#include "app/outlook_picture.hpp"
#include "app/screens/screens.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb {
namespace {

constexpr std::int64_t longest_plan_ms = 4000;  // then the best plan found by then is shown

// Keeps what came of a reckoning for that basis.
template <class Picture>
void take(OutlookDraft::Reckoned<Picture>& into, const OutlookDraft::Basis& basis, Result<Picture> found) {
  into = {};
  into.basis = basis;
  if (found) {
    into.picture = std::make_shared<const Picture>(std::move(*found));
  } else if (found.error().kind == ErrorKind::cancelled) {
    into.stopped = true;
  } else {
    into.refused = sentence_of(found.error());
  }
}

}  // namespace

void App::reckon(const Reckon& wish) {
  refresh_rows();
  const OutlookWords& w = outlook_words();
  OutlookDraft& draft = ui_.outlook;
  const std::string clone = clone_words(ui_.about.clone);
  const OutlookDraft::Basis basis{ui_.about.clone, ui_.about.genus, rows_.revision(), local_day(now())};
  const auto with = [&](std::string_view pattern, const auto& work) {
    Busy busy(*this, say(pattern, clone));
    work([&busy](double done) { return busy.go_on(done); });
  };
  switch (wish.what) {
    case Reckon::What::outlook:
      with(w.reckoning,
           [&](const GoOn& go_on) { take(draft.ahead, basis, look_ahead(book_, basis.clone, basis.on, go_on)); });
      break;
    case Reckon::What::season_plan:
      with(w.plan_reckoning, [&](const GoOn& go_on) { plan_season(go_on); });
      break;
    case Reckon::What::yields:
      with(w.yields_reckoning,
           [&](const GoOn& go_on) { take(draft.yields, basis, yields_of_clone(book_, basis.clone, basis.on, go_on)); });
      break;
  }
}

void App::plan_season(const std::function<bool(double)>& go_on) {
  OutlookDraft& draft = ui_.outlook;
  const auto& picture = draft.ahead.picture;
  if (!picture) return;
  OutlookDraft::Planned planned;
  planned.of = picture;
  planned.wanted = draft.wanted[{ui_.about.clone, ui_.about.genus}];
  SeasonWish wish;
  wish.seasons = planned.wanted.season;
  wish.target = planned.wanted.target;
  const std::int64_t begun_ms = host_.now_ms();
  bool stopped = false;
  auto found = season_plan({picture->known}, wish, [&](double done) {
    if (!go_on(done)) stopped = true;
    return !stopped && host_.now_ms() - begun_ms < longest_plan_ms;
  });
  // Stopped: there is none, and it is worked out when asked for.
  if (found && !stopped) planned.plan = std::make_shared<const SeasonPlan>(std::move(*found));
  if (!found && !stopped) planned.refused = sentence_of(found.error());
  draft.planned = std::move(planned);
}

}  // namespace motherbulb
