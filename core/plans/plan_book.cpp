#include "core/plans/plan_book.hpp"

#include <algorithm>
#include <set>

#include "core/names.hpp"
#include "core/plans/plan_file.hpp"

namespace motherbulb {

PlanBook::PlanBook(const std::vector<StoryLine>& book_story) {
  const auto take = [this](PlanRead&& read, PlanVersion version) {
    if (!read.faults.empty()) {
      faults_.push_back(read.faults.front());
      return;
    }
    const GrowingPlan& plan = read.plan;
    std::vector<PlanVersion>& versions = plans_[plan.id];
    // What goes by its genus and method is the one that batches follow unless told otherwise.
    if (plan.name.empty()) by_kind_.emplace(std::pair(folded_name(plan.genus), plan.method), plan.id);
    version.plan = std::make_shared<const GrowingPlan>(std::move(read.plan));
    versions.push_back(std::move(version));
  };
  for (const ShippedPlan& shipped : shipped_plans()) {
    take(read_plan(shipped.text, shipped.file), PlanVersion{nullptr, true, {}, {}, {}});
  }
  for (auto& [id, versions] : plans_) {
    std::stable_sort(versions.begin(), versions.end(), [](const PlanVersion& a, const PlanVersion& b) {
      return a.plan->since.value_or(Day{INT32_MIN}) < b.plan->since.value_or(Day{INT32_MIN});
    });
  }
  for (const StoryLine& line : book_story) {
    const auto* edit = std::get_if<PlanEdited>(&line.fact);
    if (edit == nullptr) continue;
    ++edits_;  // one that was taken back has moved dates too
    last_edit_ = std::max(last_edit_, line.entry.stamp);
    if (!line.stands) continue;
    PlanRead read =
        read_plan(edit->content, "the plan " + edit->plan + ", changed " + to_text(local_day(line.entry.when)) +
                                     (line.entry.helper.empty() ? "" : " by " + line.entry.helper));
    // The entry names the plan, whatever stands inside.
    read.plan.id = edit->plan;
    // Bulbs that follow it would be left without a plan, and so would pieces.
    if (const PlanVersion* before = latest(edit->plan);
        before != nullptr && read.faults.empty() && cuts(before->plan->method) != cuts(read.plan.method)) {
      read.faults.push_back("the plan " + edit->plan + ", changed " + to_text(local_day(line.entry.when)) +
                            (line.entry.helper.empty() ? "" : " by " + line.entry.helper) + ": method: \"" +
                            std::string(to_text(read.plan.method)) + "\" does not fit what it was, \"" +
                            std::string(to_text(before->plan->method)) +
                            "\"; keep the method, or give the plan a name of its own");
    }
    take(std::move(read), PlanVersion{nullptr, false, line.order, line.entry.when, line.entry.helper});
  }
}

const PlanVersion* PlanBook::standing(const std::vector<PlanVersion>& versions, const FoldOrder& order,
                                      Day begun) const {
  const PlanVersion* stands = nullptr;
  for (const PlanVersion& version : versions) {
    const bool before = version.shipped ? !version.plan->since || *version.plan->since <= begun : version.order < order;
    if (stands == nullptr || before || version.plan->for_all) stands = &version;
  }
  return stands;
}

const std::vector<PlanVersion>* PlanBook::default_for(std::string_view genus, Method method) const {
  // Offsets are bulbs, and grow on as such.
  const Method kind = cuts(method) ? method : Method::growing_on;
  const auto id = by_kind_.find({folded_name(std::string(genus)), kind});
  if (id == by_kind_.end()) return nullptr;
  const auto found = plans_.find(id->second);
  return found == plans_.end() ? nullptr : &found->second;
}

const PlanBook::Own& PlanBook::own(const BatchState& batch, const std::string& content, const FoldOrder& order) const {
  const auto [at, fresh] = own_.try_emplace(content);
  if (fresh) {
    PlanRead read = read_plan(content, "the plan of " + pot_label(batch, 0));
    at->second.version.order = order;
    if (read.faults.empty()) {
      at->second.version.plan = std::make_shared<const GrowingPlan>(std::move(read.plan));
    } else {
      at->second.fault = read.faults.front();
    }
  }
  return at->second;
}

const PlanVersion* PlanBook::version_for(const BatchState& batch, bool pieces) const {
  // What a person said of the batch, the last word first. A plan of bulbs says nothing of pieces, nor the other way.
  for (auto said = batch.plans.rbegin(); said != batch.plans.rend(); ++said) {
    if (!said->content.empty()) {
      const PlanVersion& version = own(batch, said->content, said->order).version;
      if (version.plan && cuts(version.plan->method) == pieces) return &version;
      continue;
    }
    const auto found = plans_.find(said->plan);
    if (found == plans_.end() || found->second.empty()) continue;
    const PlanVersion* version = standing(found->second, said->order, Day{INT32_MAX});
    if (version != nullptr && cuts(version->plan->method) == pieces) return version;
  }
  const auto* versions = default_for(batch.genus, pieces ? batch.method : Method::growing_on);
  if (versions == nullptr || (pieces && !cuts(batch.method))) return nullptr;
  return standing(*versions, batch.begun_order, local_day(batch.begun_on));
}

const GrowingPlan* PlanBook::plan_for(const BatchState& batch, bool pieces) const {
  const PlanVersion* version = version_for(batch, pieces);
  return version == nullptr ? nullptr : version->plan.get();
}

std::string PlanBook::missing_for(const BatchState& batch) const {
  // A word before the last holds no more.
  if (batch.plans.empty() || !batch.plans.back().content.empty()) return "";
  const std::string& said = batch.plans.back().plan;
  return plans_.find(said) == plans_.end() ? said : "";
}

std::string PlanBook::unread_for(const BatchState& batch) const {
  if (batch.plans.empty() || batch.plans.back().content.empty()) return "";
  return own(batch, batch.plans.back().content, batch.plans.back().order).fault;
}

std::vector<const PlanVersion*> PlanBook::latest() const {
  std::vector<const PlanVersion*> all;
  for (const auto& [id, versions] : plans_) {
    if (!versions.empty()) all.push_back(&versions.back());
  }
  std::stable_sort(all.begin(), all.end(), [](const PlanVersion* a, const PlanVersion* b) {
    if (a->plan->genus != b->plan->genus) return a->plan->genus < b->plan->genus;
    if (a->plan->method != b->plan->method) return a->plan->method < b->plan->method;
    return a->plan->name < b->plan->name;
  });
  return all;
}

const PlanVersion* PlanBook::latest(std::string_view id) const {
  const auto* all = versions(id);
  return all == nullptr || all->empty() ? nullptr : &all->back();
}

const std::vector<PlanVersion>* PlanBook::versions(std::string_view id) const {
  const auto found = plans_.find(id);
  return found == plans_.end() ? nullptr : &found->second;
}

}  // namespace motherbulb
