// SPDX-License-Identifier: MIT
// The bike to scale, from the side and from above. Invariants:
// 1. The unit is the millimetre of the real bike. The left side is shown, front at left; the view
//    from above is the same way round.
// 2. What stands on an assumed figure is dashed, and its title says what to measure; a part that is
//    not chosen is a thin dashed outline with its name.
// 3. Every part carries data-part (its slot), every figure that can be measured data-field (its
//    path); data-rests is "given", "assumed" or "missing"; data-rule and data-says stand on a
//    finding's flag.
#pragma once

#include <string>
#include <vector>

#include "draw/drawing.h"
#include "fit/engine.h"
#include "views/pose.h"

namespace ww::views {

/// A finding shown on a part.
struct Flag {
  std::string part;  ///< slot: "motor"
  std::string rule;  ///< id
  fit::Verdict verdict;
  std::string says;  ///< one sentence
};

/// The clashes, and what is unmeasured of what blocks something, on the parts the rule stands
/// between (on the slots of its figures where it names none).
std::vector<Flag> flags_of(const std::vector<fit::Finding>& findings);

struct ViewOptions {
  double width_px = 1200;  ///< it is lettered for; under 700 names become numbers with a list below
  figure::System units = figure::System::metric;
  std::vector<Flag> flags = {};
  const build::Build* own = nullptr;  ///< the builder's sheet where the build is a completed one:
                                      ///< parts it lacks are drawn as sketched in
};

/// Valid: any build, also an empty one: what is missing comes from the class of bike.
draw::Drawing side_view(const build::Build& build, const ViewOptions& options = {});
draw::Drawing top_view(const build::Build& build, const ViewOptions& options = {});

}  // namespace ww::views
