#include <cstdio>

int main() {
  std::fputs("motherbulb: this program has no command yet.\n", stderr);
  return 2;
}
