#include <algorithm>
#include <array>
#include <tuple>

#include "app/cli/command.hpp"
#include "app/cli/day.hpp"

namespace motherbulb::cli {
namespace {

Json balance_json(const CloneBalance& clone) {
  const BulbBalance& bulbs = clone.bulbs;
  const PieceBalance& pieces = clone.pieces;
  return Json{{"clone", clone.clone},
              {"genus", clone.genus},
              {"in", Json{{"begun", bulbs.begun}, {"increase", bulbs.increase}}},
              {"there", bulbs.there},
              {"out", Json{{"cut", bulbs.cut},
                           {"sold", bulbs.sold},
                           {"given", bulbs.given},
                           {"discarded", bulbs.discarded},
                           {"lost", losses_json(bulbs.lost)}}},
              {"open", bulbs.open},
              {"pieces", Json{{"made", pieces.made},
                              {"growing", pieces.growing},
                              {"waiting", pieces.waiting},
                              {"unpotted", pieces.unpotted},
                              {"alive", pieces.alive},
                              {"lost", losses_json(pieces.lost)},
                              {"open", pieces.open}}}};
}

std::string lost_text(const LossByCause& lost) {
  static constexpr std::array<std::string_view, cause_count> ways = {
      "by an unknown cause", "by rot", "by a pest", "by a disease", "by an animal", "by frost", "dried out"};
  std::string text;
  for (std::size_t i = 0; i < lost.size(); ++i) {
    if (lost[i] == 0) continue;
    text += (text.empty() ? "" : ", ") + std::to_string(lost[i]) + " " + std::string(ways[i]);
  }
  return text;
}

// One sentence a clone: what came in is what is there and what went.
std::string balance_text(const CloneBalance& clone) {
  const BulbBalance& bulbs = clone.bulbs;
  std::string text = on_one_line(clone.clone) + ": " + std::to_string(bulbs.begun) + " came in";
  if (bulbs.increase != 0) text += " and " + std::to_string(bulbs.increase) + " grew";
  text += "; " + std::to_string(bulbs.there) + " are there";
  const auto add = [&text](std::int64_t count, const char* what) {
    if (count != 0) text += ", " + std::to_string(count) + " " + what;
  };
  add(bulbs.cut, "were cut");
  add(bulbs.sold, "sold");
  add(bulbs.given, "given away");
  add(bulbs.discarded, "discarded");
  if (total(bulbs.lost) != 0)
    text += ", " + std::to_string(total(bulbs.lost)) + " lost (" + lost_text(bulbs.lost) + ")";
  if (bulbs.open > 0) add(bulbs.open, "not accounted for");
  if (bulbs.open < 0) add(-bulbs.open, "more than were in the book");
  text += ".\n";
  const PieceBalance& pieces = clone.pieces;
  if (pieces.made == 0 && pieces.growing == 0 && pieces.open == 0) return text;
  text +=
      "    of " + counted(pieces.made, "piece", "pieces") + " cut, " + std::to_string(pieces.growing) + " are growing";
  add(pieces.waiting, "wait to be potted");
  add(pieces.unpotted, "were unpotted");
  if (pieces.unpotted != 0) text += " (" + std::to_string(pieces.alive) + " alive)";
  if (total(pieces.lost) != 0) {
    text += ", " + std::to_string(total(pieces.lost)) + " lost (" + lost_text(pieces.lost) + ")";
  }
  if (pieces.open > 0) add(pieces.open, "not seen again");
  if (pieces.open < 0) add(-pieces.open, "more than were cut");
  return text + ".\n";
}

}  // namespace

int stock(const StockWish& wish, const Context& context) {
  const auto on = day_or_today(wish.on, context.machine.host);
  if (!on) return fail(on.error());
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  Stock stock = (*opened)->stock(wish.on.empty() ? std::nullopt : std::optional<Day>(*on));
  std::sort(stock.rows.begin(), stock.rows.end(), [](const StockRow& a, const StockRow& b) {
    return std::tie(a.clone, a.genus, a.grade) < std::tie(b.clone, b.genus, b.grade);
  });
  std::sort(stock.balance.begin(), stock.balance.end(), [](const CloneBalance& a, const CloneBalance& b) {
    return std::tie(a.clone, a.genus) < std::tie(b.clone, b.genus);
  });
  stock.rows.erase(
      std::remove_if(stock.rows.begin(), stock.rows.end(), [](const StockRow& row) { return row.bulbs == 0; }),
      stock.rows.end());
  if (context.format == Format::json) {
    Json rows = Json::array(), balance = Json::array();
    for (const StockRow& row : stock.rows) {
      rows.push_back(
          Json{{"clone", row.clone}, {"genus", row.genus}, {"grade", to_text(row.grade)}, {"bulbs", row.bulbs}});
    }
    for (const CloneBalance& clone : stock.balance) balance.push_back(balance_json(clone));
    return say_json(Json{{"on", to_text(*on)}, {"rows", rows}, {"balance", balance}});
  }
  if (context.format == Format::csv) {
    std::string text = csv_row({"clone", "genus", "grade", "bulbs"});
    for (const StockRow& row : stock.rows) {
      text += csv_row({row.clone, row.genus, to_text(row.grade), std::to_string(row.bulbs)});
    }
    return say(text);
  }
  if (stock.balance.empty() && stock.rows.empty()) return say("No bulbs are in the book on " + to_text(*on) + ".\n");
  TextTable table({"Clone", "Genus", "Size, cm", ">Bulbs"});
  std::int64_t all = 0;
  std::string last;
  for (const StockRow& row : stock.rows) {
    const bool again = row.clone == last;
    table.add({again ? "" : row.clone, again ? "" : row.genus, row.grade.sized() ? to_text(row.grade) : "unsized",
               std::to_string(row.bulbs)});
    last = row.clone;
    all += row.bulbs;
  }
  table.add({"All", "", "", std::to_string(all)});
  std::string text = "Stock on " + to_text(*on) + "\n\n" + table.text() + "\n";
  for (const CloneBalance& clone : stock.balance) text += balance_text(clone);
  return say(text);
}

}  // namespace motherbulb::cli
