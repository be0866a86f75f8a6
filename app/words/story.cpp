#include "app/words/story.hpp"

namespace motherbulb {

const StoryWords& story_words() {
  static const StoryWords english;
  return english;
}

}  // namespace motherbulb
