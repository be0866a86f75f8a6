// What the mathematics cost: learning from many pots what cuts give, and the chance that a clone is lost.
#pragma once

namespace motherbulb::bench {

// Processor seconds for 200 clones with 2,000 pots in all, each clone asked for.
double yields_seconds();

// Processor seconds for the chance that none is left, of 8 classes. `exact`: two kinds of year and no places, so that
// each of 12 seasons is summed over all sequences; else 10 seasons with 4 places that may be struck, the later ones
// over drawn sequences.
double chance_of_loss_seconds(bool exact);

}  // namespace motherbulb::bench
