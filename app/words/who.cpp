#include "app/words/who.hpp"

namespace motherbulb {

const WhoWords& who_words() {
  static const WhoWords english;
  return english;
}

}  // namespace motherbulb
