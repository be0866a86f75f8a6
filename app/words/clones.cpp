#include "app/words/clones.hpp"

namespace motherbulb {

const ClonesWords& clones_words() {
  static const ClonesWords english;
  return english;
}

}  // namespace motherbulb
