// Reckoning what a screen of the mathematics shows, under progress and "Stop".

#include "app/app.hpp"
#include "app/outlook_picture.hpp"
#include "app/plan_picture.hpp"
#include "app/screens/screens.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"
#include "app/yields_picture.hpp"

namespace motherbulb {
namespace {

constexpr std::int64_t longest_plan_ms = 8000;  // then the best plan found by then is shown

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

SeasonWish wish_of(const OutlookDraft::Wanted& wanted) {
  SeasonWish wish;
  wish.seasons = wanted.soonest ? most_seasons_asked : wanted.season;
  wish.target = wanted.target;
  wish.soonest = wanted.soonest;
  if (wanted.pots) wish.pots = {static_cast<double>(*wanted.pots)};
  if (wanted.hours) wish.hours = {static_cast<double>(*wanted.hours)};
  wish.reserve = wanted.reserve;
  wish.sure = wanted.sure_percent / 100.0;
  return wish;
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
      plan_season(basis);
      break;
    case Reckon::What::yields:
      with(w.yields_reckoning,
           [&](const GoOn& go_on) { take(draft.yields, basis, yields_of_clone(book_, basis.clone, basis.on, go_on)); });
      break;
  }
}

void App::plan_season(const OutlookDraft::Basis& basis) {
  OutlookDraft& draft = ui_.outlook;
  OutlookDraft::Wanted& kept = draft.wanted[{basis.clone, basis.genus}];
  draft.working = OutlookDraft::Working{basis, kept};
  const std::int64_t begun_ms = host_.now_ms();
  bool given_up = false;  // something else is asked for
  std::optional<Wish> then;
  auto found = [&]() -> Result<PlanPicture> {
    Busy busy(*this, {}, Busy::Beside::yes);
    const auto go_on = [&](double done) {
      draft.working->share = std::max(draft.working->share, done);
      const bool on = busy.go_on(done);
      given_up = work_->given_up;
      then = work_->then;
      draft.working->stop = draft.working->stop || (!on && !given_up);
      return on && !draft.working->stop && host_.now_ms() - begun_ms < longest_plan_ms;
    };
    auto clones = clones_of_plan(basis, go_on);
    if (!clones) return clones.error();
    // The same line of the draft, though a screen may have changed what stands in it meanwhile.
    if (kept.target == 0) {
      kept.target = usual_target(**clones, kept.season);
      draft.working->wanted.target = kept.target;
    }
    return plan_ahead(*clones, wish_of(draft.working->wanted), go_on);
  }();
  const OutlookDraft::Working done = *draft.working;
  draft.working.reset();
  if (!given_up) {
    auto& planned = draft.planned;
    if (!(planned.basis == basis)) planned.picture.reset();
    planned.basis = basis;
    planned.tried = done.wanted;
    planned.refused.clear();
    // What was found by then is shown, and said to be no more than that.
    planned.stopped = !found && found.error().kind == ErrorKind::cancelled;
    if (found) {
      planned.made_for = done.wanted;
      planned.picture = std::make_shared<const PlanPicture>(std::move(*found));
    } else if (!planned.stopped) {
      planned.refused = sentence_of(found.error());
      planned.picture.reset();
    }
  }
  if (then) carry_out(*then);
}

Result<std::shared_ptr<const std::vector<PlanClone>>> App::clones_of_plan(const OutlookDraft::Basis& basis,
                                                                          const std::function<bool(double)>& go_on) {
  const OutlookDraft& draft = ui_.outlook;
  if (draft.planned.basis == basis && draft.planned.picture) return draft.planned.picture->clones;
  if (draft.ahead.basis == basis && draft.ahead.picture)
    return std::make_shared<const PlanClones>(PlanClones{draft.ahead.picture->known});
  auto clones = clones_to_plan(book_, basis.clone, basis.on, go_on);
  if (!clones) return clones.error();
  return std::make_shared<const PlanClones>(std::move(*clones));
}

}  // namespace motherbulb
