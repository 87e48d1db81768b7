// SPDX-License-Identifier: MIT
// The order of joints: under 60 V as long as can be, each joint once; and what is live by the
// circuit.
#include "steps/joints.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "steps/live.h"
#include "tests/steps/bench.h"

namespace ww::steps {
namespace {

/// Parts as they grow: which part each group is in.
class Parts {
 public:
  explicit Parts(int groups) : part_(static_cast<std::size_t>(groups)) {
    std::iota(part_.begin(), part_.end(), 0);
  }
  int join(int lower) {
    const int a = part_[static_cast<std::size_t>(lower - 1)],
              b = part_[static_cast<std::size_t>(lower)];
    for (int& p : part_) p = p == b ? a : p;
    return static_cast<int>(std::count(part_.begin(), part_.end(), a));
  }

 private:
  std::vector<int> part_;
};

TEST(Joints, StayUnderSixtyVoltsAsLongAsCanBe) {
  for (const bool split : {false, true}) {
    for (int series = 1; series <= 40; ++series) {
      for (const double unit_V : {2.7, 3.65, 4.2, 8.4, 16.8, 25.2, 58.0, 61.0}) {
        const JointOrder order = joint_order(series, unit_V, split);
        std::set<int> made;
        Parts parts(series);
        int over = 0;
        for (const Joint& j : order.joints) {
          EXPECT_TRUE(made.insert(j.lower).second);
          const int groups = parts.join(j.lower);
          EXPECT_EQ(groups, j.last - j.first + 1) << series << " x " << unit_V << " at " << j.lower;
          const bool above = groups * unit_V > 60 * (1 + 1e-9);
          over += above;
          if (!j.late) {
            EXPECT_FALSE(above);
          }
          if (over > 0) {
            EXPECT_TRUE(j.late);
          }
        }
        const bool by_hand = split && series > 1;
        EXPECT_EQ(static_cast<int>(made.size()), series - 1 - (by_hand ? 1 : 0));
        EXPECT_EQ(made.count(order.by_disconnect), 0U);
        // No order has fewer late ones: a part holds at most so many groups.
        const int longest = std::max(1, static_cast<int>(std::floor(60 / unit_V + 1e-9)));
        const auto blocks = [&](int groups) { return (groups + longest - 1) / longest; };
        const int late = static_cast<int>(std::count_if(order.joints.begin(), order.joints.end(),
                                                        [](const Joint& j) { return j.late; }));
        EXPECT_EQ(late, by_hand ? blocks(series / 2) - 1 + blocks(series - series / 2) - 1
                                : blocks(series) - 1);
      }
    }
  }
}

TEST(Live, FollowsTheSwitchesOnTheCommuter) {
  const auto c = wiring::circuit(support::demo("commuter"));
  const auto has = [](const std::vector<std::string>& list, const char* label) {
    return std::find(list.begin(), list.end(), label) != list.end();
  };
  const auto out = live_devices(c, "pack.+", all_open());
  EXPECT_TRUE(has(out, "main fuse"));
  EXPECT_FALSE(has(out, "main contactor"));
  EXPECT_FALSE(has(out, "controller"));
  const auto joined = live_devices(c, "pack.+", {"contactor", "precharge_relay"});
  EXPECT_TRUE(has(joined, "main contactor"));
  EXPECT_TRUE(has(joined, "charger"));
  EXPECT_FALSE(has(joined, "motor"));
  EXPECT_TRUE(
      has(live_devices(c, "pack.+", {"contactor"}), "controller"));  // past the open contactor
}

TEST(Live, AWireIsLiveOnlyOnceItIsLaid) {
  for (const auto& name : demos()) {
    SCOPED_TRACE(name);
    const auto c = wiring::circuit(support::demo(name));
    std::vector<bool> laid(c.wires.size(), false);
    for (const Reach r : reach_of_wires(c, laid)) EXPECT_EQ(r, Reach::never);
    const auto index = [&](const char* label) {
      for (std::size_t w = 0; w < c.wires.size(); ++w) {
        if (c.wires[w].label == label) return w;
      }
      return c.wires.size();
    };
    laid[index("T3")] = true;  // between fuse and contactor, but T1 is not there
    EXPECT_EQ(reach_of_wires(c, laid)[index("T3")], Reach::never);
    laid[index("T1")] = true;
    const auto now = reach_of_wires(c, laid);
    EXPECT_EQ(now[index("T1")], Reach::always);
    if (c.wire("T2") == nullptr) {
      EXPECT_EQ(now[index("T3")], Reach::fuse);
    }
    laid.assign(laid.size(), true);
    const auto all = reach_of_wires(c, laid);
    EXPECT_EQ(all[index("P1")], Reach::never);
    EXPECT_NE(all[index("T4")], Reach::never);
    for (std::size_t w = 0; w < all.size(); ++w) {
      // Nothing of the 12 V side hangs on the pack: the converter is between.
      if (c.wires[w].group == wiring::Group::supply) {
        EXPECT_EQ(all[w], Reach::never) << c.wires[w].label;
      }
    }
  }
}

TEST(AsBuilt, ATickedWireKeepsWhatWasTakenAndAThinOneDoesNotPass) {
  Build build = support::demo("commuter");
  build.wires.push_back(
      {.label = "T4", .colour = "orange", .route = {}, .length = {}, .section = {}});
  build.wires.back().laid = build::Answer::yes;
  const auto ride = plain_ride(build);
  EXPECT_EQ(protocol(build, ride).step("wire-T4")->verdict, Verdict::within);
  build.wires.back().section.value = 1e-6;
  EXPECT_EQ(protocol(build, ride).step("wire-T4")->verdict, Verdict::outside);
  build.wires.back().section = {};
  build.wires.back().laid = build::Answer::no;
  EXPECT_EQ(protocol(build, ride).step("wire-T4")->verdict, Verdict::outside);
  log(build, "wire-T3", "yes");
  const Protocol p = protocol(build, ride);
  EXPECT_EQ(p.step("wire-T3")->verdict, Verdict::within);
  for (const auto& w : p.wires) {
    const auto& label = p.circuit.wires[static_cast<std::size_t>(w.wire)].label;
    EXPECT_EQ(w.laid, label == "T3") << label;
  }
}

}  // namespace
}  // namespace ww::steps
