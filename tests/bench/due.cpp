#include "tests/bench/due.hpp"

#include "app/book_rows.hpp"
#include "tests/bench/frames.hpp"
#include "tests/bench/measure.hpp"
#include "tests/bench/season.hpp"

namespace motherbulb::bench {
namespace {

constexpr int pots = 20'000;

double all_ms(const PlanBook& plans) {
  // The growing-on plan of hippeastrum has 6 steps of bulbs; two more of each make 8.
  GrowingPlan plan = *plans.latest("hippeastrum-growing-on")->plan;
  for (const Step extra : {Step::grade, Step::unpot}) {
    PlanStep step = plan.steps.front();
    step.step = extra;
    plan.steps.push_back(step);
  }
  BatchState batch;
  batch.begun = true;
  batch.genus = "Hippeastrum";
  batch.begun_on = bare_day(Day{20'000}, 0);
  std::vector<PotState> states(pots);
  for (int i = 0; i < pots; ++i) {
    PotState& pot = states[static_cast<std::size_t>(i)];
    pot.pot.number = i + 1;
    pot.filled = true;
    pot.unit = Unit::bulbs;
    pot.bulbs[Grade{200, 220}] = 1;
    pot.filled_on = bare_day(Day{20'000 + i % 300}, 0);
    pot.filled_order.at = i;
    for (const Step step : {Step::look, Step::dry_off, Step::start, Step::water, Step::feed}) {
      FoldOrder order;
      order.at = i + 1 + static_cast<int>(step);
      pot.done.push_back({step, bare_day(Day{20'300}, 0), order});
    }
  }
  std::vector<Due> due;
  due.reserve(pots * 8);
  const double before = Clock::cpu_seconds();
  for (const PotState& pot : states) add_due(plan, batch, pot, Hemisphere::north, due);
  const double ms = (Clock::cpu_seconds() - before) * 1000;
  if (due.empty()) stop("nothing is due in the bench");
  return ms;
}

}  // namespace

DueFigures due_figures(const char* folder) {
  DueFigures figures;
  figures.all_ms = all_ms(PlanBook());
  BenchHost host;
  OpenWish wish;
  wish.create = true;
  const auto book = must(Logbook::open(std::string(folder) + "/due.book", wish, host));
  fill(*book, pots);
  const Day today = local_day(moment(host.now_ms(), 0));
  BookRows rows(*book);
  double before = Clock::cpu_seconds();
  rows.refresh(today);
  figures.fresh_ms = (Clock::cpu_seconds() - before) * 1000;
  const auto batches = book->batches();
  constexpr int taps = 20;
  for (int i = 0; i < taps; ++i) {
    Record record;
    record.helper = "Runa";
    record.batch = batches[static_cast<std::size_t>(i) * 7].id;
    record.pot = 1;
    record.fact = Watered{};
    must(book->run(record));
    before = Clock::cpu_seconds();
    rows.refresh(today);
    figures.after_tap_ms += (Clock::cpu_seconds() - before) * 1000 / taps;
  }
  return figures;
}

}  // namespace motherbulb::bench
