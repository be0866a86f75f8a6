// Health: what is shown of it, how many to test, the trace.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/health_picture.hpp"
#include "core/health/sampling.hpp"
#include "core/health/trace.hpp"
#include "core/health/treatments.hpp"
#include "shared/day.hpp"

namespace motherbulb {

struct DescentTree;

struct HealthDraft {
  enum class Page { house, troubles, how_many, hot_water, treatments, off_types } page = Page::house;

  // --- the house
  std::int32_t not_looked_days = 28;
  // The pots behind a mark or a bench.
  struct Listing {
    enum class Of { trouble, place, not_looked } of = Of::trouble;
    std::string trouble;  // its key
    std::string bench;
    std::optional<DamagePicture::Month> month;  // none: all twelve
  };
  std::optional<Listing> listing;
  // Cleared: why is asked.
  struct Clearing {
    PotId pot;
    std::string label;
    bool writing = false;
    std::string reason;
  };
  std::optional<Clearing> clearing;

  // --- what it looks like
  std::optional<std::string> trouble;  // opened, by id

  // --- how many to test
  std::int64_t lot = 0;  // 0: what is there
  double share = 0.05, confidence = 0.95, sensitivity = 1;
  std::int64_t pool = 1;
  std::string pad;  // the field whose figures are tapped; empty: none
  std::string typed;
  std::int64_t bulbs = 0;                 // there in all
  std::optional<std::uint64_t> bulbs_at;  // counted at this revision
  // Reckoned anew only when something that it rests on has changed.
  struct Answer {
    bool made = false;
    std::int64_t lot = 0, pool = 1;
    double share = 0, confidence = 0, sensitivity = 0;
    std::string refused;  // in words
    std::optional<Sample> single, pooled;
  } answer;

  // --- hot water, treatments
  std::int32_t girth_cm = 16;
  bool this_year = false;  // else the last twelve months

  // What the screens show of the book, made anew only where it, or what is asked, has changed.
  DamagePicture damage;
  OffTypes off_types;
  struct Picture {
    bool made = false;
    std::uint64_t revision = 0;
    Day today;
    std::int32_t days = 0;
    std::vector<BadPot> bad;
    std::vector<NotLooked> unseen;
    std::vector<const PotView*> lately;
  } picture;
  struct Treated {
    bool made = false;
    std::uint64_t revision = 0;
    Day from, to;
    std::vector<TreatmentRow> rows;
  } treated;

  // --- the trace that is shown
  struct Traced {
    bool made = false;
    std::uint64_t revision = 0;
    PotId pot;
    Trace trace;
    std::string failed;  // in words
    std::string label;   // of the pot
    std::string clone, genus, bench, why;
    bool held = false;
    std::vector<bool> held_already;  // by pot of the trace
    std::shared_ptr<const DescentTree> tree;
    std::vector<BatchId> tree_batches;  // by tag
    struct Slot {
      const PotView* pot = nullptr;  // null: free
      bool touched = false;
    };
    std::vector<Slot> bench_slots;
    bool bring = false;  // the pot itself into sight on the bench
  } traced;
  enum class TraceView { pots, descent, bench } trace_view = TraceView::pots;
};

}  // namespace motherbulb
