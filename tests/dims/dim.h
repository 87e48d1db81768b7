// SPDX-License-Identifier: MIT
// The tests' side of the number that carries its dimension (dim_number.h). Use:
// class MyDims : public ww::DimTest {}; TEST_F(MyDims, Road) {
// expect_dim(force(...), unit_N, "force"); }
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/dims/dim_number.h"

namespace ww {

/// The result has the dimension, is finite, and nothing unlike was added on the way.
inline void expect_dim(const Dim& result, const Powers& powers, const std::string& what) {
  EXPECT_TRUE(!result.any_dimension && same_powers(result.powers, powers))
      << what << " has dimension " << (result.any_dimension ? "any" : powers_text(result.powers))
      << ", should have " << powers_text(powers);
  EXPECT_TRUE(std::isfinite(result.value)) << what << " is not finite";
  for (const auto& fault : dim_faults()) ADD_FAILURE() << what << ": " << fault;
  clear_dim_faults();
}

/// Base of the dimension tests: a fault that no expect_dim reported fails the test at its end.
class DimTest : public ::testing::Test {
 protected:
  void SetUp() override { clear_dim_faults(); }
  void TearDown() override {
    for (const auto& fault : dim_faults()) ADD_FAILURE() << "left over: " << fault;
    clear_dim_faults();
  }
};

}  // namespace ww
