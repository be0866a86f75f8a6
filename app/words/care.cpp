#include "app/words/care.hpp"

namespace motherbulb {

const CareWords& care_words() {
  static const CareWords english;
  return english;
}

const JobWords& job_words(Kind job) {
  const CareWords& w = care_words();
  switch (job) {
    case Kind::watered:
      return w.watered;
    case Kind::fed:
      return w.fed;
    case Kind::treated:
      return w.treated;
    case Kind::covered:
      return w.covered;
    case Kind::uncovered:
      return w.uncovered;
    case Kind::moved:
      return w.moved;
    case Kind::looked:
      return w.looked;
    case Kind::potted:
      return w.potted;
    case Kind::started:
      return w.started;
    case Kind::dried_off:
      return w.dried_off;
    case Kind::repotted:
      return w.repotted;
    case Kind::flowered:
      return w.flowered;
    case Kind::sold:
      return w.sold;
    case Kind::given:
      return w.given;
    case Kind::discarded:
      return w.discarded;
    case Kind::lost:
      return w.lost;
    case Kind::tested:
      return w.tested;
    case Kind::held:
      return w.held;
    case Kind::cleared:
      return w.cleared;
    case Kind::combined:
      return w.combined;
    case Kind::begun:
      return w.split;
    default:
      return w.note;
  }
}

}  // namespace motherbulb
