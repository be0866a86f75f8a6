#include "app/words/outlook.hpp"

namespace motherbulb {

const OutlookWords& outlook_words() {
  static const OutlookWords english;
  return english;
}

}  // namespace motherbulb
