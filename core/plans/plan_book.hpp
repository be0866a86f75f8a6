// Every growing plan in every version, and which of them a batch follows. Plans come with the program (assets/plans)
// and from the book (PlanEdited).
//
// A batch keeps the version that stood when it was begun, by the order of the fold, so every book that holds the same
// entries says the same; unless an edit was made for all, or a person said of the batch what it follows.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "core/logbook.hpp"
#include "core/plans/growing_plan.hpp"

namespace motherbulb {

struct ShippedPlan {
  std::string_view file, text;
};
const std::vector<ShippedPlan>& shipped_plans();  // made of assets/plans by the build

struct PlanVersion {
  std::shared_ptr<const GrowingPlan> plan;
  bool shipped = false;
  FoldOrder order;     // of the edit
  When when;           // of the edit
  std::string helper;  // of the edit
};

class PlanBook {
public:
  // The shipped ones and, of the book's own story (Logbook::story of zero), the edits that stand.
  explicit PlanBook(const std::vector<StoryLine>& book_story = {});

  // The plan that a pot of pieces (else of bulbs, or what waits) of the batch follows; null: none is known. Valid as
  // long as this object.
  [[nodiscard]] const GrowingPlan* plan_for(const BatchState& batch, bool pieces) const;
  [[nodiscard]] const PlanVersion* version_for(const BatchState& batch, bool pieces) const;
  // The plan that the batch was told to follow and this device does not have; empty: it has it.
  [[nodiscard]] std::string missing_for(const BatchState& batch) const;
  // Why the plan that the batch was last given of its own cannot be read; empty: it can, or it was given none. What
  // it followed before holds.
  [[nodiscard]] std::string unread_for(const BatchState& batch) const;
  // Of each plan the version of today, by genus and method, copies behind.
  [[nodiscard]] std::vector<const PlanVersion*> latest() const;
  [[nodiscard]] const PlanVersion* latest(std::string_view id) const;  // null: no such plan
  [[nodiscard]] const std::vector<PlanVersion>* versions(std::string_view id) const;
  // Plans of the book that cannot be read, and why; the version before each holds.
  [[nodiscard]] const std::vector<std::string>& faults() const { return faults_; }
  // Edits, those taken back among them: part of what moves a date (SEQUENCE of a calendar).
  [[nodiscard]] std::int64_t edits() const { return edits_; }
  [[nodiscard]] Stamp last_edit() const { return last_edit_; }  // when the last was written down

private:
  struct Own {
    PlanVersion version;
    std::string fault;  // why it cannot be read
  };
  const Own& own(const BatchState& batch, const std::string& content, const FoldOrder& order) const;
  const PlanVersion* standing(const std::vector<PlanVersion>& versions, const FoldOrder& order, Day begun) const;
  const std::vector<PlanVersion>* default_for(std::string_view genus, Method method) const;

  std::map<std::string, std::vector<PlanVersion>, std::less<>> plans_;  // oldest first
  std::map<std::pair<std::string, Method>, std::string> by_kind_;       // folded genus and method -> id
  mutable std::map<std::string, Own> own_;                              // of batches, by their text
  std::vector<std::string> faults_;
  std::int64_t edits_ = 0;
  Stamp last_edit_;
};

}  // namespace motherbulb
