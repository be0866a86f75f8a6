#include "app/words/cutting.hpp"

namespace motherbulb {

const CuttingWords& cutting_words() {
  static const CuttingWords english;
  return english;
}

}  // namespace motherbulb
