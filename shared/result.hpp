// What a call that may be refused hands back, and what stops the program when we ourselves are wrong.
//
// Result<T> holds either a value or one Error. An Error is a kind, by which code decides (the command line its exit
// code, a screen its picture), and one sentence for a person that says what is wrong, where, and what would mend it.
// CHECK is for our own mistakes only, in release builds too: bad input never reaches one.
#pragma once

#include <cstdio>
#include <cstdlib>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace motherbulb {

enum class ErrorKind {
  refused,    // a wish that the book cannot grant, or input that is wrong: nothing changed
  missing,    // the store or file is not there
  foreign,    // a file that is not ours
  newer,      // a file that a newer version wrote
  in_use,     // another run has the store open
  damaged,    // a file of ours whose bytes are not what was written
  failed,     // the disk or the store failed: full, read-only, input or output error
  cancelled,  // a person stopped a long piece of work; nothing changed
};

struct Error {
  ErrorKind kind = ErrorKind::refused;
  std::string what;                  // one line
  std::vector<std::string> further;  // further faults of the same input, one line each
};

template <class T>
class [[nodiscard]] Result {
public:
  Result(T value) : held_(std::move(value)) {}
  Result(Error error) : held_(std::move(error)) {}
  bool ok() const { return held_.index() == 0; }
  explicit operator bool() const { return ok(); }
  T& operator*() { return std::get<0>(held_); }
  const T& operator*() const { return std::get<0>(held_); }
  T* operator->() { return &std::get<0>(held_); }
  const T* operator->() const { return &std::get<0>(held_); }
  const Error& error() const { return std::get<1>(held_); }

private:
  std::variant<T, Error> held_;
};

struct Done {};
using Outcome = Result<Done>;

inline Error refusal(std::string what) {
  return Error{ErrorKind::refused, std::move(what), {}};
}

}  // namespace motherbulb

#define CHECK_OURS(condition)                                                                             \
  do {                                                                                                    \
    if (!(condition)) {                                                                                   \
      std::fprintf(stderr, "motherbulb: our own mistake at %s:%d: %s\n", __FILE__, __LINE__, #condition); \
      std::abort();                                                                                       \
    }                                                                                                     \
  } while (false)
