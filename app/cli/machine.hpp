// What the command line asks of the machine that it runs on; app/main.cpp hands it in.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "core/host.hpp"
#include "shared/bytes.hpp"

namespace motherbulb::cli {

struct Machine {
  Host& host;
  std::function<Result<std::unique_ptr<ByteSource>>(const std::string& path)> read;
  std::function<Result<std::unique_ptr<ByteSink>>(const std::string& path)> write;
  std::function<bool(const std::string& path)> exists;
  std::function<bool(const std::string& path)> looks_like_a_store;
  std::function<void(const std::string& path)> remove_new_store;
  std::function<int(const std::string& store)> open_window;  // store empty: the one used last, or none
};

}  // namespace motherbulb::cli
