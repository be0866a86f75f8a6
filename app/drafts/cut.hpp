// A cutting session, until the book has it.
#pragma once

namespace motherbulb {

struct CutDraft {};

}  // namespace motherbulb
