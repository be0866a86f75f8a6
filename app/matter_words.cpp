#include "app/matter_words.hpp"

#include <algorithm>

#include "app/words.hpp"

namespace motherbulb {
namespace {

Icon icon_of(MatterKind kind) {
  switch (kind) {
    case MatterKind::clock:
      return Icon::clock;
    case MatterKind::label_twice:
      return Icon::label;
    case MatterKind::two_places:
      return Icon::bench;
    case MatterKind::balance:
      return Icon::broken_ring;
    case MatterKind::unknown_device:
      return Icon::unknown;
    case MatterKind::near_names:
      return Icon::clones;
    default:
      return Icon::settle;
  }
}

bool offers_both(MatterKind kind) {
  switch (kind) {
    case MatterKind::counted_twice:
    case MatterKind::observations_differ:
    case MatterKind::two_places:
    case MatterKind::after_unpotting:
    case MatterKind::near_names:
    case MatterKind::label_twice:
      return true;
    default:
      return false;
  }
}

// Sizes with a dash between their numbers, as everywhere on screens: 2–4.
std::string with_dashes(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool between = text[i] == '-' && i > 0 && i + 1 < text.size() && text[i - 1] >= '0' && text[i - 1] <= '9' &&
                         text[i + 1] >= '0' && text[i + 1] <= '9';
    if (between) {
      out += "–";
    } else {
      out += text[i];
    }
  }
  return out;
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

// "3 of 2–4, 5 of 4–6 cm"; nothing where the count has no sizes.
std::string counted_lines(const Lines* lines) {
  std::string text;
  if (lines == nullptr) return text;
  for (const Line& line : *lines) {
    if (line.count == 0 || !line.grade || !line.grade->sized()) continue;
    text += (text.empty() ? "" : ", ") + grouped(line.count) + " of " + grade_words(*line.grade);
  }
  return text.empty() ? text : text + " cm";
}

MatterSideView word_side(const Matter& matter, const MatterSide& side, bool first, BookRows& rows, Day today) {
  const Words& w = words();
  MatterSideView view;
  view.title = side.helper;
  if (side.when) {
    view.when = clock_time(*side.when);
    const Day day = local_day(*side.when);
    if (day != today || view.when.empty())
      view.when = day_near(day, today) + (view.when.empty() ? "" : " " + view.when);
  }
  view.act = w.take_this;
  view.second = capitalised(with_dashes(side.text));
  switch (matter.kind) {
    case MatterKind::counted_twice:
      view.number = grouped(side.bulbs);
      view.word = side.bulbs == 1 ? "bulb" : "bulbs";
      view.second = counted_lines(side.fact ? rows.lines_of_fact(matter.pot.batch, *side.fact) : nullptr);
      view.act = say(w.take_number, grouped(side.bulbs));
      break;
    case MatterKind::after_unpotting:
      view.act = first ? w.act_unpotting_counts : w.act_work_counts;
      break;
    case MatterKind::balance:
      view.title = first ? w.side_leave : w.side_book;
      view.act = first ? w.act_leave : w.act_book;
      break;
    case MatterKind::clock:
      if (!first || view.title.empty()) view.title = first ? w.side_shift : w.side_as_written;
      if (!first) view.when.clear();
      view.act = first ? w.act_shift : w.act_leave;
      break;
    case MatterKind::two_places:
      view.act = w.act_stands_here;
      break;
    case MatterKind::unknown_device:
      if (view.title.empty()) view.title = first ? w.side_name : w.side_leave;
      view.act = first ? w.act_name : w.act_leave;
      break;
    case MatterKind::near_names:
      view.act = w.act_this_name;
      break;
    default:
      break;
  }
  if (view.title.empty()) view.title = first ? w.side_one : w.side_other;
  return view;
}

}  // namespace

MatterView word_matter(const Matter& matter, BookRows& rows, Day today) {
  const Words& w = words();
  MatterView view;
  view.id = hex(matter.id);
  view.icon = icon_of(matter.kind);
  view.title = title_of(matter.kind);
  if (const BatchState* batch = rows.batch(matter.pot.batch)) view.tag = pot_label(*batch, matter.pot.number);
  view.first = word_side(matter, matter.first, true, rows, today);
  view.second = word_side(matter, matter.second, false, rows, today);
  if (offers_both(matter.kind)) view.both = w.both_right;
  view.proposed = static_cast<int>(matter.proposal);
  return view;
}

}  // namespace motherbulb
