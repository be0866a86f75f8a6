// The sentences of the printed list of treatments.
#pragma once

#include <array>
#include <string_view>

namespace motherbulb {

struct TreatmentsWords {
  std::string_view title = "Treatments, {} to {}";
  std::array<std::string_view, 13> columns{
      "When",    "Product", "Registration number", "Amount in all",    "Dose", "Place", "Area", "Crop",
      "Against", "Who",     "Licence number",      "Nobody in before", "Note"};
  std::string_view crop = "{} ‘{}’";
  std::string_view crop_pots = "{}: {}";  // crops, labels
  std::string_view none = "No treatment was recorded in this time.";
  std::string_view rows = "treatment";
  std::string_view rows_many = "treatments";
  std::string_view complete = "{}. Every cell that an inspector asks for is filled in.";
  std::string_view missing = "{}. Empty cells were not said when it was recorded: {}.";
  std::string_view missing_one = "{} {}";  // "registration number", 3
  std::string_view list = "{}, {}";
  std::string_view places = "{}; {}";  // a place has commas of its own
};
[[nodiscard]] const TreatmentsWords& treatments_words();

}  // namespace motherbulb
