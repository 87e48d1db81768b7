// SPDX-License-Identifier: MIT
#include "views/pose.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "build/classes.h"
#include "build/designation.h"
#include "build/fields.h"
#include "model/sprocket.h"

namespace ww::views {

namespace {

using build::Build;

constexpr double mm_of_m = 1000;
constexpr double smallest = 1, largest = 5000;
constexpr double swingarm_fall_rad = 8 * std::numbers::pi / 180;  ///< from pivot down to the axle

/// The build, and the builder's own sheet where the build is a completed one: what he has not given
/// counts as assumed.
struct Sheets {
  const Build& build;
  const Build* own;

  bool gave(std::string_view field) const {
    return own == nullptr || build::known_at(*own, build::id_of(field));
  }
};

double kept(double mm, double low, double high) {
  return std::isfinite(mm) ? std::clamp(mm, low, high) : low;
}

/// A length on the sheet, else what is assumed.
Measure length(const Sheets& sheets, std::string_view field, double otherwise_mm) {
  const auto* figure = build::figure_at(sheets.build, build::id_of(field));
  if (figure != nullptr && figure->known() && std::isfinite(figure->value))
    return {kept(figure->value * mm_of_m, smallest, largest),
            sheets.gave(field) ? Rests::given : Rests::assumed, field};
  const Rests rests = figure == nullptr ? Rests::missing : Rests::assumed;
  return {kept(otherwise_mm, smallest, largest), rests, field};
}

/// A place on the sheet, which may be negative; NaN where it is not there.
double place(const Build& build, std::string_view field) {
  const auto* figure = build::figure_at(build, build::id_of(field));
  if (figure == nullptr || !figure->known() || !std::isfinite(figure->value)) return std::nan("");
  return std::clamp(figure->value * mm_of_m, -largest, largest);
}

const build::ClassFigures& class_of(const Build& build) {
  return build::class_figures(build.donor ? build.donor->bike_class : build::BikeClass::unknown);
}

/// Typical heights over the ground and steering angle by class, in mm and degrees.
struct ClassStature {
  double seat, head_above_seat, rake_deg, peg;
};
ClassStature typical(build::BikeClass bike_class) {
  using enum build::BikeClass;
  switch (bike_class) {
    case sport_600:
      return {815, 60, 24, 370};
    case cruiser_750_900:
      return {700, 140, 31, 290};
    case enduro_250_450:
      return {910, 110, 27, 380};
    case scooter_125_300:
      return {775, 60, 26, 300};
    default:
      return {790, 95, 25.5, 330};
  }
}

struct TyreKnown {
  build::TyreMarking marking;
  Rests rests;
};

TyreKnown tyre_of(const std::optional<build::Tyre>& tyre, std::string_view otherwise, bool own) {
  if (tyre) {
    const auto marking = build::read_tyre_marking(tyre->size);
    if (marking.width_m > 0 && marking.rim_m > 0)
      return {marking, own ? Rests::given : Rests::assumed};
  }
  return {build::read_tyre_marking(otherwise), Rests::assumed};
}

WheelPose wheel_of(const Sheets& sheets, const std::optional<build::Tyre>& tyre,
                   std::string_view otherwise, std::string_view field, double circumference_mm) {
  const TyreKnown known = tyre_of(tyre, otherwise, sheets.gave(field));
  const auto& m = known.marking;
  double radius = 0.5 * mm_of_m * (m.rim_m + 2 * m.width_m * m.aspect);
  Rests rests = known.rests;
  if (tyre && known.rests == Rests::assumed && std::isfinite(circumference_mm)) {
    radius = circumference_mm / (2 * std::numbers::pi);
    rests = Rests::given;
  }
  radius = kept(radius, 100, 600);
  return {.centre = {0, 0, 0},
          .radius = {radius, rests, field},
          .width = {kept(m.width_m * mm_of_m, 30, 400), known.rests, field},
          .rim_radius = std::min(0.5 * mm_of_m * m.rim_m, 0.92 * radius)};
}

double pitch_of(const Build& build) {
  for (const std::string_view field :
       {"chain.pitch", "sprocket_rear.pitch", "sprocket_front.pitch", "belt.pitch"}) {
    const auto* figure = build::figure_at(build, build::id_of(field));
    if (figure != nullptr && figure->known() && figure->value > 1e-3 && figure->value < 0.1)
      return figure->value * mm_of_m;
  }
  return 15.875;  // the commonest pitch of motorcycles: common practice, no source
}

/// Teeth on the sheet, else on the sprocket, else of the class.
struct Teeth {
  int count;
  Rests rests;
};
Teeth teeth_of(int chosen, const std::optional<build::Sprocket>& sprocket, int otherwise) {
  if (chosen >= 5 && chosen <= 300) return {chosen, Rests::given};
  if (sprocket && sprocket->teeth >= 5 && sprocket->teeth <= 300)
    return {sprocket->teeth, Rests::given};
  return {otherwise, Rests::assumed};
}

bool in_wheel(const Build& build) {
  if (build.gearing.drive == build::FinalDrive::hub) return true;
  return build.motor && (build.motor->type == build::MotorType::pm_hub ||
                         build.motor->shaft == build::ShaftForm::wheel);
}

void place_wheels(const Sheets& sheets, Pose& pose) {
  const Build& build = sheets.build;
  const auto& c = class_of(build);
  pose.wheelbase = length(sheets, "donor.wheelbase", c.wheelbase_m * mm_of_m);
  pose.wheelbase.mm = kept(pose.wheelbase.mm, 600, 3000);
  pose.swingarm = length(sheets, "donor.swingarm_length", 0.385 * pose.wheelbase.mm);
  pose.swingarm.mm = kept(pose.swingarm.mm, 150, 1200);
  pose.rear = wheel_of(sheets, build.tyre_rear, c.tyre_rear, "tyre_rear.size",
                       place(build, "tyre_rear.circumference"));
  pose.front = wheel_of(sheets, build.tyre_front, c.tyre_front, "tyre_front.size",
                        place(build, "tyre_front.circumference"));
  const double fall = pose.swingarm.mm * std::sin(swingarm_fall_rad);
  pose.rear.centre = {-pose.swingarm.mm * std::cos(swingarm_fall_rad), 0, -fall};
  pose.ground_z = pose.rear.centre.z - pose.rear.radius.mm;
  pose.front.centre = {pose.rear.centre.x + pose.wheelbase.mm, 0,
                       pose.ground_z + pose.front.radius.mm};
}

void place_outline(const Build& build, Pose& pose) {
  const auto bike_class = build.donor ? build.donor->bike_class : build::BikeClass::unknown;
  const auto t = typical(bike_class);
  pose.scooter = bike_class == build::BikeClass::scooter_125_300;
  Stature& s = pose.stature;
  s.seat_z = pose.ground_z + t.seat;
  s.head_z = s.seat_z + t.head_above_seat;
  s.rake_rad = t.rake_deg * std::numbers::pi / 180;
  // The fork's axle stands some 35 mm ahead of the steering axis.
  s.head_x = pose.front.centre.x - 35 / std::cos(s.rake_rad) -
             (s.head_z - pose.front.centre.z) * std::tan(s.rake_rad);
  s.peg_x = pose.scooter ? 330 : bike_class == build::BikeClass::cruiser_750_900 ? 380 : 40;
  s.peg_z = pose.ground_z + t.peg;
  s.grip_x = s.head_x - (bike_class == build::BikeClass::sport_600 ? 60 : 120);
  s.grip_z = s.head_z + (bike_class == build::BikeClass::sport_600         ? 60
                         : bike_class == build::BikeClass::cruiser_750_900 ? 260
                                                                           : 190);
}

void place_drive(const Sheets& sheets, Pose& pose) {
  const Build& build = sheets.build;
  const auto& c = class_of(build);
  DrivePose& d = pose.drive;
  d.kind = build.gearing.drive;
  if (in_wheel(build)) d.kind = build::FinalDrive::hub;
  if (d.kind == build::FinalDrive::unknown) d.kind = build::FinalDrive::chain;
  const bool belt = d.kind == build::FinalDrive::belt && build.belt.has_value();
  const Teeth front = teeth_of(belt ? build.belt->front_teeth : build.gearing.front_teeth,
                               build.sprocket_front, c.front_teeth);
  const Teeth rear = teeth_of(belt ? build.belt->rear_teeth : build.gearing.rear_teeth,
                              build.sprocket_rear, c.rear_teeth);
  d.front_teeth = front.count;
  d.rear_teeth = rear.count;
  d.front_rests =
      sheets.gave(belt ? "belt.front_teeth" : "gearing.front_teeth") ? front.rests : Rests::assumed;
  d.rear_rests =
      sheets.gave(belt ? "belt.rear_teeth" : "gearing.rear_teeth") ? rear.rests : Rests::assumed;
  d.pitch = pitch_of(build);
  const auto diameter = [&](int teeth) {
    if (d.kind == build::FinalDrive::belt) return teeth * d.pitch / std::numbers::pi;
    return model::pitch_diameter_m<double>(d.pitch, teeth);
  };
  d.front_diameter = kept(diameter(d.front_teeth), 10, 1200);
  d.rear_diameter = kept(diameter(d.rear_teeth), 10, 1200);
  d.chainline = length(sheets, "donor.chainline", 0.5 * pose.rear.width.mm - 20);
  d.rear = {pose.rear.centre.x, d.chainline.mm, pose.rear.centre.z};
  const double x = place(build, "layout.motor_x"), z = place(build, "layout.motor_z");
  const double old_x = place(build, "donor.sprocket_x"), old_z = place(build, "donor.sprocket_z");
  pose.motor.place = std::isfinite(x + z) ? Rests::given : Rests::assumed;
  if (std::isfinite(x + z)) {
    d.front = {x, d.chainline.mm, z};
  } else if (std::isfinite(old_x + old_z)) {
    d.front = {old_x, d.chainline.mm, old_z};
  } else {
    d.front = {85, d.chainline.mm, 15};
  }
}

void place_motor(const Sheets& sheets, Pose& pose) {
  const Build& build = sheets.build;
  MotorPose& m = pose.motor;
  m.in_wheel = in_wheel(build);
  const double usual = m.in_wheel ? 1.7 * 0.6 * pose.rear.rim_radius : 200;
  m.diameter = length(sheets, "motor.diameter", usual);
  m.diameter.mm = kept(m.diameter.mm, 30, m.in_wheel ? 1.9 * pose.rear.rim_radius : 900);
  m.length = length(sheets, "motor.length", m.in_wheel ? 130 : 150);
  m.with_terminals = length(sheets, "motor.length_with_terminals", m.length.mm + 30);
  m.with_terminals.mm = std::max(m.with_terminals.mm, m.length.mm);
  m.bend = length(sheets, "motor.terminal_bend", 75);
  m.shaft = m.in_wheel ? pose.rear.centre : pose.drive.front;
  if (m.in_wheel) {
    m.place = Rests::given;
    m.face_y = 0.5 * m.length.mm;
    return;
  }
  // A motor may stand farther in than the original sprocket did: its can must clear the pivot.
  const double face = length(sheets, "layout.motor_face_to_chainline", 25).mm;
  m.face_y = pose.drive.chainline.mm - face;
}

Block pack_of(const Sheets& sheets, const Pose& pose) {
  const Build& build = sheets.build;
  Block b{.slot = "pack",
          .label = "pack",
          .centre = {0, 0, 0},
          .length = 0,
          .width = 0,
          .height = 0,
          .size = build.pack ? Rests::given : Rests::missing,
          .place = Rests::assumed};
  const double roomy = std::max(pose.bay_height.mm - pose.motor.diameter.mm - 20, 140.0);
  const Measure l = length(sheets, "pack.length", 0.94 * pose.bay_length.mm);
  const Measure w = length(sheets, "pack.width", 0.92 * pose.bay_width.mm);
  double high = pose.motor.in_wheel ? 0.94 * pose.bay_height.mm : roomy;
  // A pack of known cells without a box: the cells' volume and a third more, over the bay's floor.
  if (build.cell && build.pack && build.pack->series > 0) {
    const double volume = build.cell->length.value * build.cell->width.value *
                          build.cell->height.value * 1e9 * build.pack->series *
                          std::max(build.pack->parallel, 1) * 1.33;
    if (std::isfinite(volume)) high = kept(volume / (l.mm * w.mm), 40, 900);
  }
  const Measure h = length(sheets, "pack.height", high);
  b.length = l.mm;
  b.width = w.mm;
  b.height = h.mm;
  if (build.pack) b.size = weaker(weaker(l.rests, w.rests), h.rests);
  const double x = place(build, "pack.x"), z = place(build, "pack.z");
  if (std::isfinite(x + z)) {
    b.centre = {x, 0, z};
    b.place = Rests::given;
    return b;
  }
  const double floor =
      pose.motor.in_wheel ? pose.bay.z
                          : std::max(pose.bay.z, pose.motor.shaft.z + 0.5 * pose.motor.diameter.mm);
  b.centre = {pose.bay.x + 0.5 * pose.bay_length.mm, 0, floor + 10 + 0.5 * b.height};
  return b;
}

Block controller_of(const Sheets& sheets, const Pose& pose) {
  const Build& build = sheets.build;
  const Measure l = length(sheets, "controller.length", 230);
  const Measure w = length(sheets, "controller.width", 160);
  const Measure h = length(sheets, "controller.height", 75);
  const Rests size = build.controller ? weaker(weaker(l.rests, w.rests), h.rests) : Rests::missing;
  // Under the seat, where it is dry and has air: common practice, no source.
  return {.slot = "controller",
          .label = "controller",
          .centre = {-150, 0, pose.stature.seat_z - 80 - 0.5 * h.mm},
          .length = l.mm,
          .width = w.mm,
          .height = h.mm,
          .size = size,
          .place = Rests::assumed};
}

void place_bay(const Sheets& sheets, Pose& pose) {
  const Build& build = sheets.build;
  const auto& c = class_of(build);
  pose.bay_length = length(sheets, "donor.bay_length", c.bay_length_m * mm_of_m);
  pose.bay_width = length(sheets, "donor.bay_width", c.bay_width_m * mm_of_m);
  pose.bay_height = length(sheets, "donor.bay_height", c.bay_height_m * mm_of_m);
  pose.ground_clearance = length(
      sheets, "donor.ground_clearance",
      build.donor && build.donor->bike_class == build::BikeClass::enduro_250_450 ? 300 : 155);
  pose.bay = {15, 0, pose.ground_z + pose.ground_clearance.mm + 30};
}

/// No field holds the height of the bay: it is moved up so that the pack stands in it, as far as
/// the motor allows.
void settle_bay(Pose& pose) {
  double top = -largest;
  for (const Block& b : pose.boxes) {
    if (b.slot == "pack") top = b.centre.z + 0.5 * b.height;
  }
  double room = 400;
  if (!pose.motor.in_wheel) room = pose.motor.shaft.z - 0.5 * pose.motor.diameter.mm - pose.bay.z;
  const double over = top - (pose.bay.z + pose.bay_height.mm);
  pose.bay.z += std::clamp(over, 0.0, std::max(room, 0.0));
}

}  // namespace

std::string_view word(Rests rests) {
  switch (rests) {
    case Rests::given:
      return "given";
    case Rests::assumed:
      return "assumed";
    case Rests::missing:
      break;
  }
  return "missing";
}

Rests weaker(Rests a, Rests b) {
  return std::max(a, b);
}

Pose pose_of(const Build& build, const Build* own) {
  const Sheets sheets{build, own};
  Pose pose{};
  place_wheels(sheets, pose);
  place_outline(build, pose);
  place_bay(sheets, pose);
  place_drive(sheets, pose);
  place_motor(sheets, pose);
  pose.side_left = length(sheets, "donor.side_left", 190);
  pose.side_right = length(sheets, "donor.side_right", 190);
  pose.swingarm_width = length(sheets, "donor.swingarm_width_at_chain", 215);
  pose.tunnel_length = length(sheets, "donor.tunnel_length", 380);
  pose.tunnel_width = length(sheets, "donor.tunnel_width", 200);
  pose.tunnel_height = length(sheets, "donor.tunnel_height", 140);
  pose.boxes.push_back(pack_of(sheets, pose));
  pose.boxes.push_back(controller_of(sheets, pose));
  settle_bay(pose);
  return pose;
}

}  // namespace ww::views
