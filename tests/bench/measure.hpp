// Work measured in a process of its own, so that each figure has its own processor seconds and its own peak of memory.
#pragma once

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb::bench {

// Stops the bench: a bench that goes on after a fault measures nothing.
[[noreturn]] inline void stop(const std::string& why) {
  std::fprintf(stderr, "motherbulb_bench: %s\n", why.c_str());
  std::fflush(stderr);
  _exit(1);
}
template <class T>
T must(Result<T> result) {
  if (!result) stop(result.error().what);
  return std::move(*result);
}

struct Measured {
  double cpu = 0, wall = 0, peak_mb = 0;  // seconds, seconds, megabytes (of 10^6 bytes) of the whole process
  std::array<double, 8> said{};           // what the work says itself
};

// Between start and stop, in the child.
class Clock {
public:
  explicit Clock(Measured& into) : into_(into), wall_(std::chrono::steady_clock::now()), cpu_(cpu_seconds()) {}
  void stop() {
    into_.cpu += cpu_seconds() - cpu_;
    into_.wall += std::chrono::duration<double>(std::chrono::steady_clock::now() - wall_).count();
  }
  static double cpu_seconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    const auto seconds = [](const timeval& t) {
      return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
  }

private:
  Measured& into_;
  std::chrono::steady_clock::time_point wall_;
  double cpu_;
};

inline Measured in_a_process(const std::function<void(Measured&)>& work) {
  int ends[2];
  if (pipe(ends) != 0) stop("no pipe");
  std::fflush(stdout);
  const pid_t child = fork();
  if (child < 0) stop("no process");
  if (child == 0) {
    close(ends[0]);
    Measured measured;
    work(measured);
    if (write(ends[1], &measured, sizeof measured) != static_cast<ssize_t>(sizeof measured)) _exit(1);
    _exit(0);
  }
  close(ends[1]);
  Measured measured;
  const bool whole = read(ends[0], &measured, sizeof measured) == static_cast<ssize_t>(sizeof measured);
  close(ends[0]);
  int status = 0;
  rusage usage{};
  wait4(child, &status, 0, &usage);
  if (!whole || status != 0) stop("a measurement failed");
  measured.peak_mb = static_cast<double>(usage.ru_maxrss) * 1024 / 1e6;
  return measured;
}

inline double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values.empty() ? 0 : values[values.size() / 2];
}
inline double greatest(const std::vector<double>& values) {
  return values.empty() ? 0 : *std::max_element(values.begin(), values.end());
}

}  // namespace motherbulb::bench
