#include "app/words/house.hpp"

namespace motherbulb {

const HouseWords& house_words() {
  static const HouseWords english;
  return english;
}

}  // namespace motherbulb
