// SPDX-License-Identifier: MIT
#include "prints/prints.h"

#include <gtest/gtest.h>

#include "tests/prints/support.h"

namespace ww::prints {
namespace {

TEST(Prints, AreFoundByName) {
  for (const Entry& entry : print_list()) EXPECT_EQ(find_print(entry.key), &entry);
  EXPECT_EQ(find_print("no-such-print"), nullptr);
}

}  // namespace
}  // namespace ww::prints
