// Finding a pot: what was typed so far.
#pragma once

namespace motherbulb {

struct FindDraft {};

}  // namespace motherbulb
