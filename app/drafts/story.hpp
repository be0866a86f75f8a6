// One pot's story: what is chosen, and what is done from there.
#pragma once

namespace motherbulb {

struct StoryDraft {};

}  // namespace motherbulb
