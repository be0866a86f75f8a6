#include "tests/bench/frames.hpp"

#include "tests/app/headless.hpp"
#include "tests/bench/measure.hpp"
#include "tests/bench/season.hpp"

namespace motherbulb::bench {
namespace {

constexpr int pots_a_batch = 8;
constexpr int pots_a_bench = 200;

}  // namespace

void fill(Logbook& book, int pots) {
  for (int first = 0; first < pots; first += pots_a_batch * 64) {
    std::vector<Command> commands;
    for (int b = 0; b < 64 && first + b * pots_a_batch < pots; ++b) {
      Record record;
      record.helper = "Runa";
      Begun begun;
      begun.clone = "Tirna " + std::to_string((first / pots_a_batch + b) % 40);
      begun.genus = "Hippeastrum";
      begun.method = Method::chipping;
      Line mothers;
      mothers.grade = Grade{260, 280};
      mothers.count = pots_a_batch;
      begun.mothers = {mothers};
      begun.sections = 8;
      record.fact = begun;
      const std::size_t by = commands.size();
      commands.emplace_back(record);
      for (int p = 0; p < pots_a_batch; ++p) {
        const int number = first + b * pots_a_batch + p;
        Record potted;
        potted.helper = "Runa";
        potted.begun_by = by;
        potted.pot = p + 1;
        Line pieces;
        pieces.count = 8;
        potted.fact = Potted{Unit::pieces,
                             {pieces},
                             "house, bench " + std::to_string(number / pots_a_bench + 1) + ", no. " +
                                 std::to_string(number % pots_a_bench + 1),
                             ""};
        commands.emplace_back(potted);
      }
    }
    must(book.run_all(commands));
  }
}

namespace {

double frame_ms(headless::Screen& screen, int frames) {
  const double before = Clock::cpu_seconds();
  for (int i = 0; i < frames; ++i) {
    screen.pass(16);
    screen.frame();
  }
  return (Clock::cpu_seconds() - before) * 1000 / frames;
}

}  // namespace

std::vector<FrameFigure> frame_figures(const std::string& folder, int pots) {
  BenchHost host;
  OpenWish wish;
  wish.create = true;
  const auto book = must(Logbook::open(folder + "/frames.book", wish, host));
  fill(*book, pots);
  std::vector<FrameFigure> figures;
  headless::Screen screen(*book, host, {"Runa", {}}, 1440, 900);
  const auto measure = [&](const std::string& what) {
    screen.frame();
    figures.push_back({"frame: " + what, frame_ms(screen, 200)});
  };
  measure("start");
  for (const auto& [target, what] : std::vector<std::pair<std::string, std::string>>{{"bar:unpot", "choose a batch"},
                                                                                     {"bar:pots", "pots"},
                                                                                     {"bar:due", "rest & repot"},
                                                                                     {"bar:merge", "merge"}}) {
    if (screen.tap(target)) measure(what);
  }
  for (const auto& [target, what] : std::vector<std::pair<std::string, std::string>>{
           {"link:clones", "clones"}, {"link:cutting", "cutting"}, {"link:find", "find"}, {"link:labels", "labels"}}) {
    screen.tap("bar:start");
    if (screen.tap(target)) measure(what);
  }
  // The first frame after something was kept: only what changed is asked for anew.
  screen.tap("bar:pots");
  screen.frame();
  const auto rows = book->pots(false);
  constexpr int taps = 40;
  double spent = 0;
  for (int i = 0; i < taps; ++i) {
    const PotRow& row = rows[static_cast<std::size_t>(i) * rows.size() / taps];
    Record watered;
    watered.helper = "Runa";
    watered.batch = row.batch.id;
    watered.pot = row.pot.pot.number;
    watered.fact = Watered{};
    must(book->run(watered));
    const double before = Clock::cpu_seconds();
    screen.frame();
    spent += Clock::cpu_seconds() - before;
  }
  figures.push_back({"frame: pots, the first after a tap", spent * 1000 / taps});
  return figures;
}

}  // namespace motherbulb::bench
