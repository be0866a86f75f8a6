// Who is here, and when it was done: what is being typed or chosen.
#pragma once

#include <string>

namespace motherbulb {

struct WhoDraft {
  std::string typed_name;
  bool typing = false;
};

}  // namespace motherbulb
