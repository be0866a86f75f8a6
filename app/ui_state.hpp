// What the screens remember between frames: where we are, drafts, what was just kept. Nothing of it is in the book.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/drafts/bench.hpp"
#include "app/drafts/care.hpp"
#include "app/drafts/clones.hpp"
#include "app/drafts/codes.hpp"
#include "app/drafts/cut.hpp"
#include "app/drafts/due.hpp"
#include "app/drafts/find.hpp"
#include "app/drafts/health.hpp"
#include "app/drafts/house.hpp"
#include "app/drafts/merge.hpp"
#include "app/drafts/outlook.hpp"
#include "app/drafts/plan.hpp"
#include "app/drafts/rest.hpp"
#include "app/drafts/story.hpp"
#include "app/drafts/unpot.hpp"
#include "app/drafts/who.hpp"
#include "app/settings.hpp"
#include "app/wishes.hpp"

namespace motherbulb {

// What was kept last, until the next act.
struct Kept {
  std::string words;
  std::vector<Receipt> receipts;  // empty: cannot be undone here
  std::string helper;
};

struct Mishap {
  std::string title;
  std::string words;
};

// How far this device's own entries are known to lie elsewhere too.
struct HandedOut {
  std::string writer;  // hexadecimal; empty: nothing was ever handed out
  std::uint64_t upto = 0;
  friend bool operator==(const HandedOut& a, const HandedOut& b) { return a.writer == b.writer && a.upto == b.upto; }
};

// Why what was written here may be lost with this device; the one act that mends all of it is to hand out a parcel.
enum class StorageRisk { none, full, only_here, may_be_cleared };

// A question asked once, and what is kept on yes.
struct Asked {
  std::string question;
  Keep wish;
  std::string despite;    // already said why
  bool guarded = false;   // a hold or a re-entry time stands against it: it wants a reason, not a yes
  bool entering = false;  // a re-entry time does
  bool writing = false;   // the reason is being written
  std::string why;
};

struct UiState {
  Screen screen = Screen::start;
  Subject about;          // what the screen is about
  std::vector<Go> trail;  // screens to go back to, the last one last
  Settings settings;
  std::string helper;
  std::optional<When> when;  // acts were done then; none: now
  std::optional<Keep> waiting_for_helper;
  std::vector<PotId> last_pots;  // that something was kept for, the latest first

  UnpotDraft unpot;
  MergeDraft merge;
  WhoDraft who;
  BenchDraft bench;
  FindDraft find;
  RestDraft rest;
  DueDraft due;
  HealthDraft health;
  PlanDraft plan;
  CutDraft cut;
  CareDraft care;
  ClonesDraft clones;
  StoryDraft story;
  HouseDraft house;
  CodesDraft codes;
  ScanDraft scan;
  bool has_camera = false;  // of this device, that can be asked to read codes
  OutlookDraft outlook;

  HandedOut handed_out;
  StorageRisk at_risk = StorageRisk::none;
  // What this device has in place of a command line.
  bool has_commands = true;
  bool can_pick_files = false;
  bool can_set_aside = false;

  std::optional<Kept> kept;
  bool keeping = false;  // the disk takes its time to answer; stands in the slip's place
  std::optional<When> last_kept;
  std::optional<Mishap> trouble;
  std::optional<Asked> asked;
};

}  // namespace motherbulb
