// The numbered steps by which a book's tables came to be what they are. user_version tells how far a file has come.
#pragma once

#include <cstdint>

namespace motherbulb {
class Database;
namespace schema {

inline constexpr std::int64_t application_id = 0x4d42756c;  // of Motherbulb's books; refuses every other file
inline constexpr std::int64_t current = 2;

void create(Database& database);
void upgrade(Database& database, std::int64_t from);

}  // namespace schema
}  // namespace motherbulb
