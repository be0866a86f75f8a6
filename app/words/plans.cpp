#include "app/words/plans.hpp"

namespace motherbulb {

const PlansWords& plans_words() {
  static const PlansWords english;
  return english;
}

}  // namespace motherbulb
