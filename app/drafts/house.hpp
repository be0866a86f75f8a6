// Settings, first start, parcels and backup: what is being typed or chosen.
#pragma once

namespace motherbulb {

struct HouseDraft {};

}  // namespace motherbulb
