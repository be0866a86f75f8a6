#include "app/cli/command.hpp"

namespace motherbulb::cli {
namespace {

std::string_view to_text(Take take) {
  return take == Take::first ? "first" : take == Take::second ? "second" : "both";
}

std::string words_of(MatterKind kind) {
  switch (kind) {
    case MatterKind::counted_twice:
      return "one pot counted twice";
    case MatterKind::observations_differ:
      return "two devices saw different things on one day";
    case MatterKind::label_twice:
      return "two batches bear one label";
    case MatterKind::two_places:
      return "moved to two places on one day";
    case MatterKind::after_unpotting:
      return "work on a pot that was emptied before";
    case MatterKind::clock:
      return "a device's clock was wrong";
    case MatterKind::balance:
      return "bulbs not accounted for";
    case MatterKind::unknown_device:
      return "a device that has no name yet";
    case MatterKind::near_names:
      return "two clones with nearly one name";
    case MatterKind::fork:
      return "two entries under one number";
  }
  return "";
}

std::string pot_of(const Matter& matter, const Logbook& book) {
  if (matter.pot.batch.is_zero()) return "";
  const auto batch = book.batch(matter.pot.batch);
  return batch ? pot_label(*batch, matter.pot.number) : "";
}

Json side_json(const MatterSide& side) {
  return Json{{"helper", side.helper},
              {"when", side.when ? motherbulb::to_text(*side.when) : ""},
              {"text", side.text},
              {"bulbs", side.bulbs}};
}

std::string side_text(const MatterSide& side) {
  std::string text = side.helper;
  if (side.when) text += (text.empty() ? "" : ", ") + short_when(*side.when);
  if (!side.text.empty()) text += (text.empty() ? "" : ": ") + side.text;
  return on_one_line(text);
}

Error unknown_matter(const std::string& id) {
  return refusal("--settle: there is no open matter " + id +
                 " in this book; the list of matters shows each with its id, twelve digits and letters");
}

}  // namespace

int matters(const MattersWish& wish, const Context& context) {
  if (wish.settle.empty() != wish.take.empty()) {
    return fail_usage("--settle ID and --take proposal|first|second|both go together");
  }
  Result<std::unique_ptr<Logbook>> opened = wish.settle.empty()
                                                ? open_to_look(wish.store, context)
                                                : Logbook::open(wish.store, OpenWish{}, context.machine.host);
  if (!opened) return fail(opened.error());
  Logbook& book = **opened;
  if (!wish.settle.empty()) {
    Settle settle;
    settle.helper = wish.helper;
    const auto id = matter_id_from_hex(wish.settle);
    std::optional<Matter> found;
    for (const Matter& matter : book.matters()) {
      if (id && matter.id == *id) found = matter;
    }
    if (!found) return fail(unknown_matter(wish.settle));
    settle.matter = *id;
    settle.take = wish.take == "first"    ? Take::first
                  : wish.take == "second" ? Take::second
                  : wish.take == "both"   ? Take::both
                                          : found->proposal;
    const auto receipt = book.run(settle);
    if (!receipt) return fail(receipt.error());
  }

  const std::vector<Matter> open = book.matters();
  const int code = open.empty() ? 0 : 1;
  if (context.format == Format::json) {
    Json list = Json::array();
    for (const Matter& matter : open) {
      list.push_back(Json{{"id", hex(matter.id)},
                          {"kind", motherbulb::to_text(matter.kind)},
                          {"pot", pot_of(matter, book)},
                          {"proposal", to_text(matter.proposal)},
                          {"sides", Json::array({side_json(matter.first), side_json(matter.second)})}});
    }
    return say_json(list, code);
  }
  if (context.format == Format::csv) {
    std::string text = csv_row({"id", "kind", "pot", "proposal", "first_helper", "first_when", "first_text",
                                "first_bulbs", "second_helper", "second_when", "second_text", "second_bulbs"});
    for (const Matter& matter : open) {
      std::vector<std::string> row = {hex(matter.id), std::string(motherbulb::to_text(matter.kind)),
                                      pot_of(matter, book), std::string(to_text(matter.proposal))};
      for (const MatterSide* side : {&matter.first, &matter.second}) {
        row.push_back(side->helper);
        row.push_back(side->when ? motherbulb::to_text(*side->when) : "");
        row.push_back(side->text);
        row.push_back(std::to_string(side->bulbs));
      }
      text += csv_row(row);
    }
    return say(text, code);
  }
  std::string text;
  if (!wish.settle.empty()) text += "Settled: " + wish.settle + ".\n";
  if (open.empty()) return say(text + "Nothing is left to settle.\n");
  for (const Matter& matter : open) {
    const std::string pot = pot_of(matter, book);
    const std::optional<BatchState> batch = matter.pot.batch.is_zero() ? std::nullopt : book.batch(matter.pot.batch);
    text += hex(matter.id) + "  " + words_of(matter.kind);
    if (!pot.empty()) text += ": " + pot;
    if (batch && !batch->clone.empty()) text += " (" + on_one_line(batch->clone) + ")";
    text += "\n  first   " + side_text(matter.first) + "\n  second  " + side_text(matter.second) +
            "\n  proposed: " + std::string(to_text(matter.proposal)) + "\n\n";
  }
  text += counted(open.size(), "matter is", "matters are") +
          " open. To settle one as proposed:\n  motherbulb matters " + wish.store + " --settle " +
          hex(open.front().id) + " --take proposal\n";
  return say(text, code);
}

}  // namespace motherbulb::cli
