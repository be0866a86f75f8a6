#include "app/code_symbol.hpp"

#include <qrencode.h>

#include <memory>

#include "shared/result.hpp"

namespace motherbulb {
namespace {

struct FreeInput {
  void operator()(QRinput* input) const { QRinput_free(input); }
};
struct FreeCode {
  void operator()(QRcode* code) const { QRcode_free(code); }
};

}  // namespace

CodeSymbol code_symbol(std::string_view text, int least_version) {
  const std::unique_ptr<QRinput, FreeInput> input(QRinput_new2(least_version, QR_ECLEVEL_M));
  CHECK_OURS(input != nullptr);
  CHECK_OURS(QRinput_append(input.get(), QR_MODE_AN, static_cast<int>(text.size()),
                            reinterpret_cast<const unsigned char*>(text.data())) == 0);
  const std::unique_ptr<QRcode, FreeCode> code(QRcode_encodeInput(input.get()));
  CHECK_OURS(code != nullptr);
  CodeSymbol symbol;
  symbol.side = static_cast<std::size_t>(code->width);
  symbol.version = code->version;
  symbol.dark.resize(symbol.side * symbol.side);
  // The lowest bit of each module says whether it is dark; the others say what it is for.
  for (std::size_t i = 0; i < symbol.dark.size(); ++i) symbol.dark[i] = code->data[i] & 1U;
  return symbol;
}

}  // namespace motherbulb
