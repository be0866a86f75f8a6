#include "app/words/find.hpp"

namespace motherbulb {

const FindWords& find_words() {
  static const FindWords english;
  return english;
}

}  // namespace motherbulb
