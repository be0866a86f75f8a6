// Reckoning what a screen of the mathematics shows, under progress and "Stop".

#include "app/app.hpp"
#include "app/reckoning.hpp"
#include "app/screens/screens.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb {
namespace {

// A person stopped it, or the device failed.
bool may_be_tried_again(const Error& why) {
  return why.kind == ErrorKind::cancelled || why.kind == ErrorKind::failed;
}

// Keeps what came of a reckoning for that basis.
template <class Picture>
void take(OutlookDraft::Reckoned<Picture>& into, const OutlookDraft::Basis& basis, const Result<ReckonAnswer>& answer) {
  into = {};
  into.basis = basis;
  if (answer) {
    into.picture = std::get<std::shared_ptr<const Picture>>(answer->picture);
  } else if (may_be_tried_again(answer.error())) {
    into.stopped = true;
  } else {
    into.refused = sentence_of(answer.error());
  }
}

void take_plan(OutlookDraft& draft, const OutlookDraft::Working& done, const Result<ReckonAnswer>& answer) {
  auto& planned = draft.planned;
  if (!(planned.basis == done.basis)) planned.picture.reset();
  planned.basis = done.basis;
  planned.tried = done.wanted;
  planned.refused.clear();
  // What was found by then is shown, and said to be no more than that.
  planned.stopped = !answer && may_be_tried_again(answer.error());
  if (answer) {
    planned.made_for = done.wanted;
    planned.picture = std::get<std::shared_ptr<const PlanPicture>>(answer->picture);
  } else if (!planned.stopped) {
    planned.refused = sentence_of(answer.error());
    planned.picture.reset();
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
  const OutlookDraft::Basis basis{ui_.about.clone, ui_.about.genus, rows_.revision(), local_day(now())};
  const bool plans = wish.what == Reckon::What::season_plan;
  ReckonJob job{wish.what, basis.clone, basis.on, {}, nullptr};
  Work work;
  work.beside = plans;
  if (plans) {
    const OutlookDraft::Wanted& wanted = draft.wanted[{basis.clone, basis.genus}];
    draft.working = OutlookDraft::Working{basis, wanted};
    job.wish = wish_of(wanted);
    job.clones = known_clones(basis);
  } else {
    work.words = say(wish.what == Reckon::What::outlook ? w.reckoning : w.yields_reckoning, clone_words(basis.clone));
  }
  work.basis = basis;
  work.job = std::move(job);
  work.elsewhere = static_cast<bool>(surroundings_.start_reckoning);
  work_ = std::move(work);
  if (work_->elsewhere) {
    surroundings_.start_reckoning(*work_->job);
  } else {
    reckon_here();
  }
}

void App::reckon_here() {
  ReckonWatch watch;
  watch.go_on = [this](double share) {
    reckoning_goes_on(share, 0);
    return go_on_working(share) && !is_to_stop();
  };
  watch.aims_at = [this](std::int64_t target) { reckoning_goes_on(work_->share, target); };
  watch.now_ms = [this] { return host_.now_ms(); };
  end_reckoning(motherbulb::reckon(&book_, *work_->job, watch));
}

bool App::is_to_stop() const {
  return work_->stop || (ui_.outlook.working && ui_.outlook.working->stop);
}

bool App::may_still_answer() {
  if (work_->given_up || work_->job->what != Reckon::What::season_plan || !surroundings_.hurry_reckoning) return false;
  if (!work_->hurried_ms) {
    work_->hurried_ms = frame_ms_;
    surroundings_.hurry_reckoning();
  }
  return frame_ms_ < *work_->hurried_ms + hurried_for_ms;
}

void App::reckoning_goes_on(double share, std::int64_t target) {
  if (!work_ || !work_->job) return;
  work_->share = share;
  OutlookDraft& draft = ui_.outlook;
  if (!draft.working) return;
  draft.working->share = std::max(draft.working->share, share);
  if (target == 0 || draft.working->wanted.target != 0) return;
  draft.working->wanted.target = target;
  OutlookDraft::Wanted& kept = draft.wanted[{work_->basis.clone, work_->basis.genus}];
  if (kept.target == 0) kept.target = target;
}

void App::reckoned(Result<ReckonAnswer> answer) {
  if (work_ && work_->elsewhere) end_reckoning(std::move(answer));
}

void App::end_reckoning(Result<ReckonAnswer> answer) {
  if (answer) reckoning_goes_on(1, answer->target);
  const Work work = std::move(*work_);
  work_.reset();
  OutlookDraft& draft = ui_.outlook;
  switch (work.job->what) {
    case Reckon::What::outlook:
      take(draft.ahead, work.basis, answer);
      break;
    case Reckon::What::yields:
      take(draft.yields, work.basis, answer);
      break;
    case Reckon::What::season_plan: {
      const OutlookDraft::Working done = *draft.working;
      draft.working.reset();
      if (!work.given_up) take_plan(draft, done, answer);
      break;
    }
  }
  if (!answer && answer.error().kind == ErrorKind::failed) fail(outlook_words().not_reckoned, answer.error());
  if (work.then) carry_out(*work.then);
}

std::shared_ptr<const std::vector<PlanClone>> App::known_clones(const OutlookDraft::Basis& basis) const {
  const OutlookDraft& draft = ui_.outlook;
  if (draft.planned.basis == basis && draft.planned.picture) return draft.planned.picture->clones;
  if (draft.ahead.basis == basis && draft.ahead.picture)
    return std::make_shared<const PlanClones>(PlanClones{draft.ahead.picture->known});
  return nullptr;
}

}  // namespace motherbulb
