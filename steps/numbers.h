// SPDX-License-Identifier: MIT
// The numbers of a build for a sum, and how far the sum may be off because they are.
// Invariants:
// 1. A sum is asked again with each of its figures at one half-width above and below its middle,
//    one at a time; the halves of the differences add up as a root of squares.
// 2. A sum that rests on an unknown figure is NaN and names it.
#pragma once

#include <functional>
#include <string_view>
#include <vector>

#include "ride/values.h"

namespace ww::steps {

class Numbers {
 public:
  explicit Numbers(const build::Build& build);

  /// The figure in SI; assumed where it has a prior; NaN where it is not known.
  double operator()(std::string_view path) const;
  double or_else(std::string_view path, double otherwise) const;
  bool known(std::string_view path) const;
  bool yes(std::string_view path) const;
  bool no(std::string_view path) const;
  bool has(std::string_view slot) const;
  template <class Enum>
  bool is(std::string_view path, Enum option) const {
    return or_else(path, 0) == static_cast<double>(option);
  }
  const build::Build& build() const { return *build_; }

  struct Sum {
    double value, half_width;  ///< SI; p10 to p90
    std::vector<build::Id> missing;
  };
  Sum sum(const std::function<double(const Numbers&)>& formula) const;

 private:
  const build::Build* build_;
  std::vector<ride::SoftFigure> soft_;
  ride::NominalValues nominal_;
  std::vector<build::Id>* reads_ = nullptr;  ///< of a copy that keeps a list of what it reads
};

}  // namespace ww::steps
