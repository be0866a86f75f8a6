// What it costs to learn from many pots what cuts give.
#pragma once

namespace motherbulb::bench {

// Processor seconds for 200 clones with 2,000 pots in all, each clone asked for.
double yields_seconds();

}  // namespace motherbulb::bench
