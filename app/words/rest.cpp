#include "app/words/rest.hpp"

namespace motherbulb {

const RestWords& rest_words() {
  static const RestWords english;
  return english;
}

}  // namespace motherbulb
