#include "app/reckoning.hpp"

#include <utility>

namespace motherbulb {
namespace {

constexpr double share_of_models = 0.4;         // of a plan's time, where the book is to be read first
constexpr std::int64_t longest_plan_ms = 8000;  // of looking for a plan; then the best found by then is shown

template <class Picture>
Result<ReckonAnswer> answer_of(Result<Picture> found) {
  if (!found) return found.error();
  return ReckonAnswer{std::make_shared<const Picture>(std::move(*found)), 0};
}

Result<ReckonAnswer> plan(const Logbook* book, const ReckonJob& job, const ReckonWatch& watch) {
  std::shared_ptr<const PlanClones> clones = job.clones;
  double from = 0;
  if (clones == nullptr) {
    auto found = clones_to_plan(*book, job.clone, job.on, part_of(watch.go_on, 0, share_of_models));
    from = share_of_models;
    if (!found) return found.error();
    clones = std::make_shared<const PlanClones>(std::move(*found));
  }
  // From here on, however long the book was read before.
  const std::int64_t begun_ms = watch.now_ms();
  const GoOn go_on = [&, part = part_of(watch.go_on, from, 1)](double done) {
    return part(done) && watch.now_ms() - begun_ms < longest_plan_ms;
  };
  SeasonWish wish = job.wish;
  if (wish.target == 0) wish.target = usual_target(*clones, wish.seasons);
  watch.aims_at(*wish.target);
  auto answer = answer_of(plan_ahead(clones, wish, go_on));
  if (answer) answer->target = *wish.target;
  return answer;
}

}  // namespace

Result<ReckonAnswer> reckon(const Logbook* book, const ReckonJob& job, const ReckonWatch& watch) {
  CHECK_OURS(book != nullptr || !job.asks_book());
  switch (job.what) {
    case Reckon::What::outlook:
      return answer_of(look_ahead(*book, job.clone, job.on, watch.go_on));
    case Reckon::What::yields:
      return answer_of(yields_of_clone(*book, job.clone, job.on, watch.go_on));
    case Reckon::What::season_plan:
      break;
  }
  return plan(book, job, watch);
}

}  // namespace motherbulb
