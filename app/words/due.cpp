#include "app/words/due.hpp"

namespace motherbulb {

const DueWords& due_words() {
  static const DueWords words;
  return words;
}

}  // namespace motherbulb
