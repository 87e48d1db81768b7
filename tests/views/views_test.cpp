// SPDX-License-Identifier: MIT
// The bike to scale: what is measured on the drawing is what stands on the sheet.
#include "views/views.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "build/designation.h"
#include "plan/dream.h"
#include "tests/support/drawings.h"
#include "tests/support/world.h"

namespace ww::views {
namespace {

using support::check_svg;
using support::demo;
using support::Xml;
using support::XmlElement;

const std::vector<std::string> demos{"beginner", "commuter", "dream",    "reference",
                                     "road",     "trail",    "two-parts"};
using Maker = draw::Drawing (*)(const build::Build&, const ViewOptions&);
const std::vector<std::pair<std::string, Maker>> both{{"side", &side_view}, {"top", &top_view}};

/// The one element of this class; every class of that attribute may hold more words.
const XmlElement& of_class(const Xml& xml, const std::string& name) {
  static const XmlElement none;
  const XmlElement* found = nullptr;
  for (const auto& e : xml.elements) {
    if ((" " + e.at("class") + " ").find(" " + name + " ") == std::string::npos) continue;
    EXPECT_EQ(found, nullptr) << "two of " << name;
    found = &e;
  }
  EXPECT_NE(found, nullptr) << name;
  return found == nullptr ? none : *found;
}

double known_mm(const build::Build& b, const char* path) {
  return 1000 * build::figure_at(b, build::id_of(path))->value;
}

TEST(SideView, WheelsStandAWheelbaseApartOnTheGround) {
  for (const char* name : {"commuter", "road", "trail", "reference", "beginner"}) {
    const auto b = demo(name);
    const Xml xml = check_svg(side_view(b), name);
    const auto &front = of_class(xml, "wheel-front"), &rear = of_class(xml, "wheel-rear");
    // Hundredths of a millimetre are written.
    EXPECT_NEAR(rear.number("cx") - front.number("cx"), known_mm(b, "donor.wheelbase"), 0.02)
        << name;
    EXPECT_GT(rear.number("cx"), front.number("cx")) << "front is at the left";
    const double ground = of_class(xml, "ground").number("y1");
    for (const auto* wheel : {&front, &rear})
      EXPECT_NEAR(wheel->number("cy") + wheel->number("r"), ground, 0.02);
    const auto size = build::read_tyre_marking(b.tyre_rear->size);
    ASSERT_GT(size.width_m, 0) << name;
    EXPECT_NEAR(rear.number("r"), 500 * (size.rim_m + 2 * size.width_m * size.aspect), 0.01)
        << name;
  }
}

TEST(SideView, PitchCirclesAreThoseOfTheTeeth) {
  for (const char* name : {"commuter", "road", "reference"}) {
    const auto b = demo(name);
    ASSERT_NE(b.gearing.drive, build::FinalDrive::hub) << name;
    const Xml xml = check_svg(side_view(b), name);
    for (const auto& [which, teeth] : {std::pair{"pitch-circle-front", b.gearing.front_teeth},
                                       {"pitch-circle-rear", b.gearing.rear_teeth}}) {
      // p / sin(pi / z), the definition of the pitch circle (ISO 606).
      const double diameter = known_mm(b, "chain.pitch") / std::sin(std::numbers::pi / teeth);
      EXPECT_NEAR(2 * of_class(xml, which).number("r"), diameter, 0.03) << name << " " << which;
    }
    const auto &front = of_class(xml, "pitch-circle-front"),
               &rear = of_class(xml, "pitch-circle-rear");
    const auto& axle = of_class(xml, "wheel-rear");
    EXPECT_DOUBLE_EQ(rear.number("cx"), axle.number("cx"));
    EXPECT_DOUBLE_EQ(rear.number("cy"), axle.number("cy"));
    if (b.gearing.centre_distance.known() && b.layout.motor_x.known()) {
      const double apart = std::hypot(rear.number("cx") - front.number("cx"),
                                      rear.number("cy") - front.number("cy"));
      // The pivot's height over the axle is assumed: the sheet's own measure is met within a
      // hundredth.
      EXPECT_NEAR(apart, known_mm(b, "gearing.centre_distance"), 0.025 * apart) << name;
    }
  }
}

TEST(SideView, TheMotorIsAsLargeAsItsCanAndSitsWhereItWasMeasured) {
  const auto b = demo("commuter");
  const Xml xml = check_svg(side_view(b), "commuter");
  const auto& can = of_class(xml, "motor-can");
  EXPECT_NEAR(2 * can.number("r"), known_mm(b, "motor.diameter"), 0.03);
  EXPECT_DOUBLE_EQ(can.number("cx"), of_class(xml, "pitch-circle-front").number("cx"));
  const Pose pose = pose_of(b);
  EXPECT_NEAR(of_class(xml, "wheel-rear").number("cx") - can.number("cx"),
              known_mm(b, "layout.motor_x") - pose.rear.centre.x, 0.02);
}

TEST(SideView, AHubMotorSitsInTheWheel) {
  const Xml xml = check_svg(side_view(demo("trail")), "trail");
  const auto &can = of_class(xml, "motor-can"), &wheel = of_class(xml, "wheel-rear");
  EXPECT_DOUBLE_EQ(can.number("cx"), wheel.number("cx"));
  EXPECT_DOUBLE_EQ(can.number("cy"), wheel.number("cy"));
  EXPECT_LT(can.number("r"), wheel.number("r"));
  for (const auto& e : xml.elements) EXPECT_NE(e.at("data-part"), "chain");
}

TEST(SideView, BothViewsAreTheSameWayRound) {
  const auto b = demo("commuter");
  const Pose pose = pose_of(b);
  const Xml xml = check_svg(top_view(b), "top");
  const auto& centre = of_class(xml, "centre-plane");
  // The chain runs on the left, which is below when the front is at the left.
  bool chain = false;
  for (const auto& e : xml.elements) {
    if (e.at("data-field") != "donor.chainline" || e.name != "polygon") continue;
    chain = true;
    double x = 0, y0 = 0, y1 = 0;
    ASSERT_EQ(std::sscanf(e.at("points").c_str(), "%lf,%lf %lf,%*f %*f,%lf", &x, &y0, &x, &y1), 4)
        << e.at("points");
    EXPECT_NEAR(0.5 * (y0 + y1) - centre.number("y1"), known_mm(b, "donor.chainline"), 0.02);
  }
  EXPECT_TRUE(chain);
  EXPECT_GT(pose.front.centre.x, pose.rear.centre.x);
}

TEST(SideView, TheScaleBarIsHalfAMetre) {
  for (const auto& [name, make] : both) {
    const Xml xml = check_svg(make(demo("commuter"), {}), name);
    double left = 1e9, right = -1e9;
    for (std::size_t i = 0; i < xml.elements.size(); ++i) {
      const auto& e = xml.elements[i];
      if (e.name != "polygon" || e.parents.empty()) continue;
      if (xml.elements[static_cast<std::size_t>(e.parents.back())].at("class") != "scale-bar")
        continue;
      double a = 0, b = 0;
      ASSERT_EQ(std::sscanf(e.at("points").c_str(), "%lf,%*f %lf", &a, &b), 2);
      left = std::min(left, a);
      right = std::max(right, b);
    }
    EXPECT_NEAR(right - left, 500, 0.02);
  }
}

TEST(Rests, WhatIsAssumedIsDashedAndSaysWhatToMeasure) {
  auto b = demo("commuter");
  const auto dashes = [&](const char* element) {
    return of_class(check_svg(side_view(b), "rests"), element).at("stroke-dasharray");
  };
  EXPECT_EQ(dashes("motor-can"), "");
  b.motor->diameter = {};
  EXPECT_NE(dashes("motor-can"), "");
  const Xml xml = check_svg(side_view(b), "assumed");
  const auto& can = of_class(xml, "motor-can");
  EXPECT_EQ(can.at("data-field"), "motor.diameter");
  EXPECT_EQ(can.at("data-rests"), "assumed");
  const auto& info = *build::schema()[build::id_of("motor.diameter")].info;
  bool told = false;
  for (const auto& e : xml.elements)
    told |= e.name == "title" && e.text.find(info.measure) != std::string::npos;
  EXPECT_TRUE(told);
}

TEST(Rests, AMissingPartIsDrawnAndNamed) {
  auto b = demo("commuter");
  b.motor.reset();
  b.pack.reset();
  for (const auto& [name, make] : both) {
    const auto drawing = make(b, {});
    const Xml xml = check_svg(drawing, name);
    EXPECT_EQ(of_class(xml, "motor-can").at("data-rests"), "missing");
    int said = 0;
    for (const auto& text : support::texts_of(drawing))
      said += text.text.find("not chosen;") != std::string::npos;
    EXPECT_EQ(said, 2) << name;
    for (const auto& e : xml.elements) {
      if (e.at("data-part") == "pack") {
        EXPECT_EQ(e.at("data-rests"), "missing");
      }
    }
  }
}

TEST(Rests, WhatWasSketchedInIsNotShownAsGiven) {
  const auto own = demo("dream");
  const auto completed = plan::sketch(own, support::library()).build;
  ASSERT_TRUE(completed.motor);
  for (const auto& [name, make] : both) {
    const Xml xml = check_svg(make(completed, {.own = &own}), name);
    for (const auto& e : xml.elements) {
      if (e.at("data-part").empty()) continue;
      EXPECT_NE(e.at("data-rests"), "given") << name << " " << e.at("data-part");
    }
  }
}

TEST(Rests, EveryPartAndFieldExists) {
  for (const auto& name : demos) {
    for (const auto& [view, make] : both) {
      const Xml xml = check_svg(make(demo(name), {}), name + view);
      for (const auto& e : xml.elements) {
        if (!e.at("data-part").empty()) {
          EXPECT_NE(build::schema().slot(e.at("data-part")), nullptr) << e.at("data-part");
        }
        const std::string fields = e.at("data-field");
        for (std::size_t from = 0; from < fields.size();) {
          const auto end = std::min(fields.find(' ', from), fields.size());
          EXPECT_GE(build::schema().find(fields.substr(from, end - from)), 0) << fields;
          from = end + 1;
        }
      }
    }
  }
}

TEST(Flags, AreToldByShapeAndWord) {
  const ViewOptions options{
      .flags = {{"motor", "motor-length-across", fit::Verdict::clash, "too long"},
                {"motor", "motor-mass", fit::Verdict::unmeasured, "not weighed"},
                {"pack", "a-rule", fit::Verdict::unmeasured, "no size"},
                {"pack", "b-rule", fit::Verdict::unmeasured, "no place"},
                {"no-such-part", "c-rule", fit::Verdict::clash, "nowhere"}}};
  const auto drawing = side_view(demo("commuter"), options);
  const Xml xml = check_svg(drawing, "flags");
  int flags = 0;
  for (const auto& e : xml.elements) {
    if (e.at("class") != "flag") continue;
    ++flags;
    if (e.at("data-for") == "pack") {
      EXPECT_EQ(e.at("data-rule"), "a-rule b-rule");
    }
    if (e.at("data-rule") == "motor-length-across") {
      EXPECT_EQ(e.at("data-says"), "clash");
    }
  }
  EXPECT_EQ(flags, 3);
  std::vector<std::string> said;
  for (const auto& text : support::texts_of(drawing)) said.push_back(text.text);
  for (const char* sign : {"!", "?", "? 2"})
    EXPECT_EQ(std::count(said.begin(), said.end(), sign), 1) << sign;
}

TEST(Flags, StandOnThePartsOfTheRule) {
  const auto b = demo("two-parts");
  const auto ride = ride::ride(b, support::cycles(), {.draws = 0});
  const auto findings =
      fit::check(b, ride, support::library(), support::cycles(), {.ways_out = false});
  const auto flags = flags_of(findings);
  const auto on = [&](const char* part, const char* rule) {
    return std::any_of(flags.begin(), flags.end(), [&](const Flag& f) {
      return f.part == part && f.rule == rule && f.verdict == fit::Verdict::clash &&
             !f.says.empty();
    });
  };
  EXPECT_TRUE(on("motor", "position-sensor-at-controller"));
  EXPECT_TRUE(on("controller", "position-sensor-at-controller"));
  for (const Flag& flag : flags)
    EXPECT_TRUE(flag.verdict == fit::Verdict::clash || flag.verdict == fit::Verdict::unmeasured);
}

TEST(Lettering, KeepsClearOnEveryDemo) {
  for (const auto& name : demos) {
    const auto own = demo(name);
    const auto completed = plan::sketch(own, support::library()).build;
    const auto ride = ride::ride(own, support::cycles(), {.draws = 0});
    const auto flags =
        flags_of(fit::check(own, ride, support::library(), support::cycles(), {.ways_out = false}));
    for (const auto& [view, make] : both) {
      for (const double width : {390.0, 640.0, 700.0, 760.0, 820.0, 900.0, 1000.0, 1200.0}) {
        for (const auto units : {figure::System::metric, figure::System::imperial}) {
          const auto drawing =
              make(completed, {.width_px = width, .units = units, .flags = flags, .own = &own});
          const std::string of = name + " " + view + " " + std::to_string(width);
          check_svg(drawing, of);
          EXPECT_EQ(support::overlap_in(drawing), "") << of;
          EXPECT_EQ(support::off_the_sheet(drawing), "") << of;
        }
      }
    }
  }
}

/// A build with members struck out or made absurd.
build::Build odd_build(std::mt19937& random) {
  build::Build b = random() % 3 == 0 ? build::Build{} : demo(demos[random() % demos.size()]);
  static constexpr double odd[] = {0,
                                   -1,
                                   1e-12,
                                   1e12,
                                   -1e12,
                                   1e300,
                                   std::numeric_limits<double>::quiet_NaN(),
                                   std::numeric_limits<double>::infinity(),
                                   -std::numeric_limits<double>::infinity()};
  for (const build::Slot& slot : build::schema().slots()) {
    if (slot.optional && random() % 4 == 0) slot.remove(b);
    if (slot.optional && random() % 4 == 0) slot.make(b);
  }
  for (build::Id id = 0; id < build::schema().size(); ++id) {
    const auto kind = random() % 12;
    if (auto* figure = build::figure_at(b, id)) {
      if (kind == 0) *figure = {};
      if (kind == 1) figure->value = odd[random() % std::size(odd)];
    }
  }
  static constexpr int counts[] = {-1, 0, 1, 3, 1000000, -1000000};
  if (random() % 2 == 0) b.gearing.front_teeth = counts[random() % 6];
  if (random() % 2 == 0) b.gearing.rear_teeth = counts[random() % 6];
  if (b.pack && random() % 2 == 0) b.pack->series = counts[random() % 6];
  if (b.pack && random() % 2 == 0) b.pack->parallel = counts[random() % 6];
  if (b.tyre_rear && random() % 2 == 0) b.tyre_rear->size = "999/999-99";
  if (random() % 3 == 0) b.project.name = "<&\"\x01\xFF>";
  b.gearing.drive = static_cast<build::FinalDrive>(random() % 5);
  if (b.donor) b.donor->bike_class = static_cast<build::BikeClass>(random() % 9);
  if (b.rider) b.rider->posture = static_cast<build::Posture>(random() % 5);
  return b;
}

TEST(AnyBuild, GivesAProperDrawing) {
  std::mt19937 random(11);
  for (int k = 0; k < 300; ++k) {
    const auto b = odd_build(random);
    const auto own = odd_build(random);
    for (const auto& [view, make] : both) {
      for (const double width :
           {390.0, 1200.0, 0.0, 1e9, std::numeric_limits<double>::quiet_NaN()}) {
        const auto drawing = make(b, {.width_px = width, .own = k % 2 == 0 ? nullptr : &own});
        const Xml xml = check_svg(drawing, view + std::to_string(k));
        EXPECT_GT(xml.elements.size(), 40U);
      }
    }
  }
}

}  // namespace
}  // namespace ww::views
