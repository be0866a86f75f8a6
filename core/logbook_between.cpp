// What a book knows between one batch and another.
#include "core/logbook.hpp"
#include "core/logbook_inside.hpp"

namespace motherbulb {

std::vector<CombinedWith> Logbook::combined_with(const BatchId& id) const {
  std::vector<CombinedWith> all;
  Store& store = *inside_->store;
  const auto story = store.find_story(id);
  if (!story || *story == 0) return all;
  for (const Link& link : store.links_from(*story)) {
    if (link.arrives) all.push_back({link.to, link.order});
  }
  for (const Link& link : store.links_to(*story)) {
    if (link.arrives) all.push_back({link.from, link.order});
  }
  return all;
}

}  // namespace motherbulb
