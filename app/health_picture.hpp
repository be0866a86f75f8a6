// What the health screen counts: damage by what it was, by month and by place; what is on hold or was found bad; what
// nobody has looked at; where off-types flowered. Made of the book, asked anew only where it changed; no clock.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/book_rows.hpp"

namespace motherbulb {

// By what damage is counted: the id of a trouble (core/health/troubles.hpp) also where a tile's plainer word was
// tapped, else what was written down, else the cause.
[[nodiscard]] std::string trouble_key(Cause cause, std::string_view detail);

// Damage noted in this month and the eleven before it, on every pot of the book, emptied ones among them.
class DamagePicture {
public:
  static constexpr int months = 12;
  struct Cell {
    std::int64_t pots = 0;   // each counted once
    std::int32_t worst = 0;  // 0: nobody said how bad, to 3
  };
  struct Row {
    std::string key;
    Cause cause = Cause::unknown;
    std::string detail;                 // to be worded and drawn by (seen_words, seen_icon)
    std::array<Cell, months> by_month;  // the last is today's
    Cell all;
  };
  struct PlaceRow {
    std::string bench;  // empty: no place is known
    Cell all;
  };
  struct Month {
    std::int32_t year = 0, month = 0;
  };
  // A note on a pot, for the lists behind a cell.
  struct Note {
    PotId pot;
    std::string label;
    std::size_t row = 0, place = 0, month = 0;
    DamageSeen seen;
    bool stands = false;  // the pot is filled
  };

  // Call before drawing; does nothing where neither the book nor the day has changed.
  void refresh(const Logbook& book, Day today);

  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }           // most pots first
  [[nodiscard]] const std::vector<PlaceRow>& places() const { return places_; }  // in walking order
  [[nodiscard]] const std::array<Month, months>& month_names() const { return month_names_; }
  [[nodiscard]] std::int64_t most_in_cell() const { return most_in_cell_; }
  // Of a row and, where given, of one of its months, or of a place: the latest note of each pot, latest first.
  [[nodiscard]] std::vector<const Note*> notes_of(std::optional<std::size_t> row, std::optional<std::size_t> month,
                                                  std::optional<std::size_t> place) const;

private:
  struct Seen {
    PotId pot;
    std::string label, bench;
    DamageSeen seen;
    bool stands = false;
  };
  void take(const BatchState& batch, const PotState& pot);
  void count(Day today);

  bool made_ = false;
  std::uint64_t revision_ = 0;
  Day today_;
  std::map<BatchId, std::vector<Seen>> seen_;
  std::vector<Row> rows_;
  std::vector<PlaceRow> places_;
  std::vector<Note> notes_;
  std::array<Month, months> month_names_;
  std::int64_t most_in_cell_ = 0;
};

// A pot, or a whole batch (number 0), that is on hold or was found bad.
struct BadPot {
  PotId pot;
  std::string label, clone;
  std::string why;
  When since;
  std::string helper;
  bool held = false;  // else: a test found something
  bool emptied = false;
};
// Why it is on hold, in the words of whoever put it there, else what its test found; empty where nobody said.
[[nodiscard]] std::string reason_of(const BatchState& batch, const PotState& pot);
// The latest first.
[[nodiscard]] std::vector<BadPot> bad_pots(const Logbook& book, std::int64_t now_ms);

// Pots that nobody has looked at for so many days: neither looked at, nor noted damage on, nor filled since.
struct NotLooked {
  std::string bench;
  std::vector<const PotView*> pots;
  std::int32_t longest = 0;  // days
};
[[nodiscard]] std::int32_t days_unseen(const PotView& pot, Day today);
// In walking order; benches without such a pot are left out.
[[nodiscard]] std::vector<NotLooked> not_looked(const std::vector<BenchView>& benches, Day today, std::int32_t days);

// Filled pots with damage noted in the last so many days, the latest first.
[[nodiscard]] std::vector<const PotView*> damaged_lately(const std::vector<const PotView*>& pots, Day today,
                                                         std::int32_t days);

// Off-types that flowered in a pot and were not taken out since.
struct OffType {
  PotId pot;
  std::int64_t off_type = 0, true_to_type = 0;
  When when;
  std::string helper;
};
// Reads the whole book the first time, then only the stories that changed.
class OffTypes {
public:
  void refresh(const Logbook& book);
  [[nodiscard]] const std::vector<OffType>& found() const { return found_; }  // the latest first

private:
  void take(const StoryLine& line);

  bool made_ = false;
  std::uint64_t revision_ = 0;
  std::map<PotId, OffType> of_pot_;
  std::vector<OffType> found_;
};

}  // namespace motherbulb
