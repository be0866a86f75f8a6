#include "core/health/trace.hpp"

#include "app/cli/command.hpp"
#include "core/label.hpp"

namespace motherbulb::cli {
namespace {

std::string id_text(const EntryId& id) {
  return hex(id.writer) + "-" + std::to_string(id.seq);
}

std::vector<BatchId> batches_called(const Logbook& book, const std::string& name) {
  const auto label = label_from_text(name);
  std::vector<BatchId> ids = book.batches_by_label(label ? to_text(*label) : name);
  return ids.empty() ? book.batches_by_mark(name) : ids;
}

Result<BatchId> only_one(const Logbook& book, const std::vector<BatchId>& ids, const std::string& name) {
  if (ids.size() == 1) return ids.front();
  std::string labels;
  for (const BatchId& id : ids) labels += (labels.empty() ? "" : ", ") + book.batch(id)->label;
  return refusal("POT: " + std::to_string(ids.size()) + " batches are called " + on_one_line(name) + " (" + labels +
                 "); write the label of the one that is meant");
}

// LABEL/3, MARK/3, or a batch by label or mark. A mark may hold a stroke itself, so the whole text is looked for first.
Result<PotId> pot_called(const Logbook& book, const std::string& text) {
  if (const auto ids = batches_called(book, text); !ids.empty()) {
    const auto id = only_one(book, ids, text);
    if (!id) return id.error();
    return PotId{*id, 0};
  }
  const std::size_t stroke = text.rfind('/');
  const std::string digits = stroke == std::string::npos ? "" : text.substr(stroke + 1);
  const bool number =
      !digits.empty() && digits.size() <= 9 && digits.find_first_not_of("0123456789") == std::string::npos;
  if (number && std::stoi(digits) > 0) {
    const std::string name = text.substr(0, stroke);
    if (const auto ids = batches_called(book, name); !ids.empty()) {
      const auto id = only_one(book, ids, name);
      if (!id) return id.error();
      return PotId{*id, std::stoi(digits)};
    }
  }
  return refusal("POT: this book knows no pot " + on_one_line(text) +
                 "; write a pot's label (26B014-X/3), a batch's label, or the mark it had in the table it came from");
}

std::string ordinal(std::int64_t number) {
  const std::int64_t last = number % 10;
  const bool teen = number % 100 / 10 == 1;
  return std::to_string(number) + (teen || last == 0 || last > 3 ? "th" : last == 1 ? "st" : last == 2 ? "nd" : "rd");
}

std::string reason_in_words(const Touched& pot) {
  switch (pot.reason) {
    case TouchedBy::descent:
      if (pot.steps == 0) return "clone-mate by descent, of the same batch";
      return "clone-mate by descent, " + counted(pot.steps, "begetting", "begettings") + " away";
    case TouchedBy::blade:
      return "cut " + ordinal(pot.steps) + " after it with the same blade, not disinfected between";
    case TouchedBy::pot:
      return "of a batch that was combined with it";
    case TouchedBy::bench:
      return (pot.steps == 2 ? "somewhere on the same bench, " : "neighbour on ") + pot.bench;
  }
  return "";
}

std::string trail_in_words(const Trace::Trail& trail) {
  std::string text = "The blade that cut " + trail.batch;
  if (!trail.helper.empty()) text += " (" + trail.helper + ")";
  text += ": " + counted(trail.plants, "plant", "plants") + " cut after; ";
  switch (trail.end) {
    case Trace::End::disinfected:
      return text + "the trail ends where it was disinfected.";
    case Trace::End::twentieth:
      return text + "the trail ends at the twentieth plant.";
    case Trace::End::last_cut:
      return text + "the trail goes on with the next cut, unless it is disinfected first.";
  }
  return text;
}

Json touched_json(const Touched& pot) {
  Json entries = Json::array();
  for (const EntryId& id : pot.entries) entries.push_back(id_text(id));
  return Json{{"pot", pot.pot.number == 0 ? "" : pot.label},
              {"batch", pot.batch},
              {"reason", to_text(pot.reason)},
              {"entries", entries},
              {"clone", pot.clone},
              {"steps", pot.steps}};
}

std::string told(const Trace& found) {
  std::string text;
  if (found.pots.empty()) {
    text = "No pot that is filled, and nothing that waits, may have it from there by what this book knows.\n";
  } else {
    TextTable table({"Pot", "Clone", "Why"});
    for (const Touched& pot : found.pots) {
      table.add({pot.pot.number == 0 ? pot.label + ", waiting" : pot.label, pot.clone, reason_in_words(pot)});
    }
    text = table.text();
  }
  if (!found.trails.empty()) text += "\n";
  for (const Trace::Trail& trail : found.trails) text += on_one_line(trail_in_words(trail)) + "\n";
  return text +
         "\nA mother that shows virus or basal rot is not cut. Your local plant-health service says what must be "
         "reported.\n";
}

}  // namespace

int trace(const TraceWish& wish, const Context& context) {
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  const Logbook& book = **opened;
  const auto bad = pot_called(book, wish.pot);
  if (!bad) return fail(bad.error());
  const auto found = motherbulb::trace(book, *bad);
  if (!found) return fail(found.error());
  const int code = found->pots.empty() ? 0 : 1;
  if (context.format == Format::json) {
    Json list = Json::array();
    for (const Touched& pot : found->pots) list.push_back(touched_json(pot));
    return say_json(list, code);
  }
  return say(told(*found), code);
}

}  // namespace motherbulb::cli
