#include "app/words/codes.hpp"

namespace motherbulb {

const CodesWords& codes_words() {
  static const CodesWords english;
  return english;
}

}  // namespace motherbulb
