// SPDX-License-Identifier: MIT
// The battery box in the bay, the gaps to what moves, places of the other parts, hub motors.
// Invariants: gaps are those of the mock-up, suspension at full bump and bars at both locks; each
// has a hard limit at which moving parts strike and the margin that usual practice keeps.
#include "fit/rule_terms.h"
#include "fit/rules_frame.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/weight.h"

namespace ww::fit {

namespace {

using build::FinalDrive;
using build::MotorType;
using figure::Kind;

bool one_box(const In& in, int i) {
  return !(in[i] > 1);
}
bool hub_driven(const In& in, int drive, int type) {
  return in.is(drive, FinalDrive::hub) || in.is(type, MotorType::pm_hub);
}

/// Clear volume of the bay and the tunnel, less a square block for the motor with 10 mm round it.
/// In: bay length, width, height; tunnel the same; motor's diameter and type.
double room_for_cells_m3(const In& in) {
  const double bay = in[0] * in[1] * in[2];
  const double tunnel = in.has(3) && in.has(4) && in.has(5) ? in[3] * in[4] * in[5] : 0;
  const double block = in[6] + 20 * mm;
  const double motor = in.has(6) && in_frame(in, 7) ? block * block * in[1] : 0;
  return std::max(bay + tunnel - motor, 0.0);
}

/// One direction of a thing in its room.
struct Fitted {
  double have_m;
  double room_m;
};
Fitted worse(Fitted a, Fitted b) {
  return b.room_m - b.have_m < a.room_m - a.have_m ? b : a;
}
Fitted better(Fitted a, Fitted b) {
  return b.room_m - b.have_m > a.room_m - a.have_m ? b : a;
}

/// A cell turned as suits best, in the bay less the box's wall: the direction with least to spare.
/// In: cell's three, bay's three, wall.
Outcome cell_enters(const In& in) {
  std::array<double, 3> cell{in[0], in[1], in[2]}, bay{in[3], in[4], in[5]};
  std::sort(cell.begin(), cell.end());
  std::sort(bay.begin(), bay.end());
  const double wall = in.or_else(6, 0);
  const Fitted tight =
      worse(worse({cell[0], bay[0] - wall}, {cell[1], bay[1] - wall}), {cell[2], bay[2] - wall});
  return at_most(tight.have_m, tight.room_m).kept_to(tight.room_m - 10 * mm);
}

/// The box as it stands in the bay: the direction with least to spare. In: box, bay.
Outcome box_enters(const In& in) {
  const Fitted tight = worse(worse({in[0], in[3]}, {in[1], in[4]}), {in[2], in[5]});
  return at_most(tight.have_m, tight.room_m).kept_to(tight.room_m - 10 * mm);
}

/// Box and motor above each other or one behind the other, whichever leaves more. In: motor's
/// diameter, box length and height, bay length and height.
Outcome box_beside_motor(const In& in) {
  const Fitted loose = better({in[0] + in[2], in[4]}, {in[0] + in[1], in[3]});
  return at_most(loose.have_m, loose.room_m).kept_to(loose.room_m - 20 * mm);
}

}  // namespace

std::vector<Fact> box_facts() {
  return {
      {.id = "room_for_cells",
       .label = "room in bay and tunnel beside the motor",
       .kind = Kind::volume,
       .needs = {"donor.bay_length", "donor.bay_width", "donor.bay_height"},
       .options = {"donor.tunnel_length", "donor.tunnel_width", "donor.tunnel_height",
                   "motor.diameter", "motor.type"},
       .compute = room_for_cells_m3,
       .formula =
           "bay + tunnel, each length x width x height, - (motor's diameter + 20 mm) squared "
           "x the bay's width"},
      {.id = "cells_volume",
       .label = "volume of the cells, each with the block round it",
       .kind = Kind::volume,
       .needs = {"pack.series", "pack.parallel", "cell.length", "cell.width", "cell.height"},
       .compute = [](const In& in) { return in[0] * in[1] * in[2] * in[3] * in[4]; },
       .formula = "units x length x width x height"},
      {.id = "box_inside",
       .label = "volume inside the box",
       .kind = Kind::volume,
       .needs = {"pack.length", "pack.width", "pack.height", "pack.wall"},
       .compute =
           [](const In& in) {
             return std::max(in[0] - in[3], 0.0) * std::max(in[1] - in[3], 0.0) *
                    std::max(in[2] - in[3], 0.0);
           },
       .formula = "(length - wall) x (width - wall) x (height - wall), wall counted once for both "
                  "sides"},
      {.id = "pack_mass_finished",
       .label = "mass of the finished pack",
       .kind = Kind::mass,
       .needs = {},
       .options = {"pack.mass", "fact.cells_mass", "pack.overhead"},
       .compute = [](const In& in) { return in.has(0) ? in[0] : in[1] * in[2]; },
       .formula = "as weighed; else mass of the cells x finished mass over cell mass"},
      {.id = "restraint_wanted",
       .label = "force on the pack's mounts at 20 times its weight",
       .kind = Kind::force,
       .needs = {"fact.pack_mass_finished"},
       .compute = [](const In& in) { return model::inertia_force_N<double>(in[0], 20); },
       .formula = "mass x 9.81 x 20"},
  };
}

std::vector<Rule> box_rules() {
  return {
      {.id = "cells-in-room",
       .codes = "K34",
       .title = "volume of the cells against the room in the bay",
       .between = {"cell", "pack", "donor"},
       .needs = {"fact.cells_volume", "fact.room_for_cells"},
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.6 * in[1]); },
       .kind = Kind::volume,
       .fits = "The cells alone take {have}; bay and tunnel beside the motor have {limit}.",
       .tight = "The cells alone take {have} of {limit} beside the motor. Walls, lugs, covers and "
                "cable bends usually leave {practice} to the cells.",
       .clash =
           "The cells alone take {have}; bay and tunnel beside the motor have only {limit}. If "
           "a box is meant to stand outside the tubes, give the bay's width as it is there.",
       .ignoring = {"Cells that do not go into the frame.", 300, 2500, 12},
       .levers = {"pack.parallel", "cell"},
       .blocks = Blocks::buying},
      {.id = "cell-in-bay",
       .codes = "K34",
       .title = "one cell, turned as suits best, in the bay",
       .between = {"cell", "donor"},
       .needs = {"cell.length", "cell.width", "cell.height", "donor.bay_length", "donor.bay_width",
                 "donor.bay_height"},
       .options = {"pack.wall"},
       .judge = cell_enters,
       .kind = Kind::length,
       .fits = "A cell fits every way it is turned best: {have} where the box leaves {limit}.",
       .tight = "A cell has {have} where the box leaves {limit}: no room for lugs and covers.",
       .clash = "A cell has {have} where the box leaves {limit}, turn it as you like.",
       .ignoring = {"Cells that do not go into the frame.", 300, 2500, 12},
       .levers = {"cell"},
       .blocks = Blocks::buying},
      {.id = "box-in-bay",
       .codes = "K34",
       .title = "outside of the box against the bay",
       .between = {"pack", "donor"},
       .needs = {"pack.length", "pack.width", "pack.height", "donor.bay_length", "donor.bay_width",
                 "donor.bay_height"},
       .options = {"pack.boxes"},
       .applies = [](const In& in) { return one_box(in, 6); },
       .judge = box_enters,
       .kind = Kind::length,
       .fits = "The box has {have} where the bay has {limit}: its least spare direction.",
       .tight = "The box has {have} where the bay has {limit}: less than 5 mm on each side.",
       .clash = "The box has {have} where the bay has {limit}. If it is meant to stand outside the "
                "tubes, give the bay's width as it is there.",
       .ignoring = {"A box welded twice.", 150, 1200, 6},
       .levers = {"pack.length", "pack.width", "pack.height"},
       .blocks = Blocks::buying},
      {.id = "box-beside-motor",
       .codes = "K34",
       .title = "box and motor together in the bay",
       .between = {"pack", "motor", "donor"},
       .needs = {"motor.diameter", "pack.length", "pack.height", "donor.bay_length",
                 "donor.bay_height"},
       .options = {"pack.boxes", "motor.type"},
       .applies = [](const In& in) { return one_box(in, 5) && in_frame(in, 6); },
       .judge = box_beside_motor,
       .kind = Kind::length,
       .fits = "Box and motor need {have} one above or behind the other; the bay has {limit} that "
               "way.",
       .tight = "Box and motor need {have} one above or behind the other; the bay has {limit} that "
                "way: less than 10 mm on each side.",
       .clash = "Box and motor need {have} one above or behind the other; the bay has only {limit} "
                "that way. A box shaped round the motor must be drawn and mocked up.",
       .ignoring = {"A box welded twice.", 150, 1200, 6},
       .levers = {"pack.height", "pack.length", "motor"},
       .blocks = Blocks::buying},
      {.id = "cells-in-box",
       .codes = "K34",
       .title = "volume of the cells against the inside of the box",
       .between = {"cell", "pack"},
       .needs = {"fact.cells_volume", "fact.box_inside"},
       .options = {"pack.boxes"},
       .applies = [](const In& in) { return one_box(in, 2); },
       .judge = [](const In& in) { return at_most(in[0], in[1]).kept_to(0.85 * in[1]); },
       .kind = Kind::volume,
       .fits = "The cells take {have} of {limit} inside the box.",
       .tight = "The cells take {have} of {limit} inside the box: hardly room for insulation, lugs "
                "and growth.",
       .clash = "The cells take {have}; inside the box there are only {limit}.",
       .ignoring = {"A box that does not close over its cells.", 150, 1200, 6},
       .levers = {"pack.height", "pack.length", "pack.width"},
       .blocks = Blocks::buying},
      {.id = "terminal-room",
       .codes = "K34",
       .title = "room over the cells' terminals",
       .between = {"pack"},
       .needs = {"pack.terminal_clearance"},
       .judge = [](const In& in) { return at_least(in[0], 10 * mm).kept_to(25 * mm); },
       .kind = Kind::length,
       .fits = "Over the terminals {have} are free.",
       .tight = "Over the terminals {have} are free; 25 to 40 mm are usual for lugs, covers and a "
                "spanner that touches nothing else.",
       .clash = "Over the terminals only {have} are free: a lid that bends touches live metal.",
       .can_hurt = true,
       .ignoring = {"A short through the lid, which cannot be switched off.", 100, 3000, 4},
       .levers = {"pack.terminal_clearance"},
       .blocks = Blocks::energising},
      {.id = "box-to-tank",
       .codes = "K35",
       .title = "box under the tank cover",
       .between = {"pack"},
       .needs = {"layout.tank_gap"},
       .judge = [](const In& in) { return at_least(in[0], 1 * mm).kept_to(8 * mm); },
       .kind = Kind::length,
       .fits = "Between box and tank cover are {have}.",
       .tight =
           "Between box and tank cover are {have}; {practice} are usual, or it drums and wears.",
       .clash = "Between box and tank cover are {have}: the cover does not seat.",
       .ignoring = {"A tank that sits high and comes loose.", 30, 300, 3},
       .levers = {"layout.tank_gap"},
       .blocks = Blocks::buying},
      {.id = "pack-restraint",
       .codes = "K44,L09",
       .title = "what the pack's mounts hold against 20 times its weight",
       .between = {"pack"},
       .needs = {"pack.restraint_force", "fact.restraint_wanted"},
       .judge = [](const In& in) { return at_least(in[0], in[1]); },
       .kind = Kind::force,
       .fits =
           "The mounts hold {have}; 20 times the pack's weight forward is {limit}. Sideways the "
           "same, upwards half. Not the lid, and nothing that only friction holds.",
       .tight =
           "The mounts hold {have}; 20 times the pack's weight is {limit}, and the figures are "
           "not sure enough to tell.",
       .clash = "The mounts hold only {have}; 20 times the pack's weight forward is {limit}.",
       .can_hurt = true,
       .ignoring = {"In a crash the pack comes through the frame, or towards you.", 80, 2500, 4},
       .levers = {"pack.restraint_force"},
       .blocks = Blocks::riding,
       .source = "20 g: one country's guideline for converted vehicles, second-hand; ask your "
                 "inspector. Newton's law"},
  };
}

std::vector<Rule> gap_rules() {
  return {
      {.id = "motor-to-swingarm",
       .codes = "K25,K67",
       .title = "motor to swingarm over the whole travel",
       .between = {"motor"},
       .needs = {"layout.motor_swingarm_gap"},
       .options = {"motor.type"},
       .applies = [](const In& in) { return in_frame(in, 1); },
       .judge = [](const In& in) { return at_least(in[0], 3 * mm).kept_to(8 * mm); },
       .kind = Kind::length,
       .fits = "The swingarm passes the motor with {have} to spare.",
       .tight = "The swingarm passes the motor with {have} to spare; {practice} are usual.",
       .clash = "The swingarm passes the motor with {have}: worn bearings and a hard bump use that "
                "up, and it strikes.",
       .can_hurt = true,
       .ignoring = {"A cracked motor case or swingarm.", 100, 1200, 5},
       .levers = {"layout.motor_swingarm_gap"},
       .blocks = Blocks::buying},
      {.id = "rear-wheel-gap",
       .codes = "K26,K67",
       .title = "parts to rear tyre and shock at full bump",
       .between = {"donor"},
       .needs = {"layout.rear_wheel_gap"},
       .judge = [](const In& in) { return at_least(in[0], 5 * mm).kept_to(12 * mm); },
       .kind = Kind::length,
       .fits = "At full bump the rear tyre and shock keep {have} away.",
       .tight =
           "At full bump the rear tyre and shock keep {have} away; {practice} are usual, since a "
           "tyre grows with speed.",
       .clash = "At full bump the rear tyre and shock come within {have}: a turning tyre cuts "
                "through a box.",
       .can_hurt = true,
       .ignoring = {"A tyre that grinds into the pack.", 200, 3000, 6},
       .levers = {"layout.rear_wheel_gap"},
       .blocks = Blocks::buying},
      {.id = "front-wheel-gap",
       .codes = "K38,K67",
       .title = "parts to front wheel and mudguard at full bump",
       .between = {"donor"},
       .needs = {"layout.front_wheel_gap"},
       .judge = [](const In& in) { return at_least(in[0], 10 * mm).kept_to(25 * mm); },
       .kind = Kind::length,
       .fits = "At full bump the front wheel keeps {have} away.",
       .tight =
           "At full bump the front wheel keeps {have} away; {practice} are usual, since the fork "
           "bends back under braking.",
       .clash =
           "At full bump the front wheel comes within {have}. A wheel that is caught throws the "
           "rider.",
       .can_hurt = true,
       .ignoring = {"A locked front wheel.", 200, 3000, 6},
       .levers = {"layout.front_wheel_gap"},
       .blocks = Blocks::buying},
      {.id = "steering-gap",
       .codes = "K37",
       .title = "parts to fork, bars and cables at both locks",
       .between = {"donor"},
       .needs = {"layout.steering_gap"},
       .judge = [](const In& in) { return at_least(in[0], 5 * mm).kept_to(10 * mm); },
       .kind = Kind::length,
       .fits = "At both locks {have} remain.",
       .tight = "At both locks {have} remain; {practice} are usual, cables included.",
       .clash = "At one of the locks only {have} remain: the steering can jam, and that kills.",
       .can_hurt = true,
       .ignoring = {"Jammed steering.", 50, 1000, 4},
       .levers = {"layout.steering_gap"},
       .blocks = Blocks::riding},
      {.id = "stand-gap",
       .codes = "K42",
       .title = "side stand to the parts, stowed and out",
       .between = {"donor"},
       .needs = {"layout.stand_gap"},
       .judge = [](const In& in) { return at_least(in[0], 2 * mm).kept_to(10 * mm); },
       .kind = Kind::length,
       .fits = "The stand passes with {have}.",
       .tight = "The stand passes with {have}; {practice} are usual over its whole way.",
       .clash = "The stand passes with {have}: it sticks, or hangs down in a bend.",
       .can_hurt = true,
       .ignoring = {"A stand that does not fold, or a bike on its side.", 30, 600, 2},
       .levers = {"layout.stand_gap"},
       .blocks = Blocks::riding},
      {.id = "heel-room",
       .codes = "K41",
       .title = "room for heels and pedals",
       .between = {"rider"},
       .needs = {"layout.heel_gap"},
       .judge = [](const In& in) { return at_least(in[0], 5 * mm).kept_to(20 * mm); },
       .kind = Kind::length,
       .fits = "Heels and pedals have {have} of room.",
       .tight = "Heels and pedals have {have} of room; {practice} are usual with winter boots.",
       .clash = "Heels and pedals have {have} of room: the rear brake cannot be reached in full.",
       .can_hurt = true,
       .ignoring = {"No rear brake when it is needed.", 30, 500, 3},
       .levers = {"layout.heel_gap"},
       .blocks = Blocks::riding},
      {.id = "knee-width",
       .codes = "K36",
       .title = "width between the knees",
       .between = {"rider"},
       .needs = {"layout.knee_width"},
       .options = {"donor.knee_width"},
       .judge =
           [](const In& in) {
             const double wide = 340 * mm;
             return at_most(in[0], 360 * mm).kept_to(std::min(wide, in.or_else(1, wide) + 40 * mm));
           },
       .kind = Kind::length,
       .fits = "The knees are {have} apart; {practice} are still pleasant.",
       .tight = "The knees are {have} apart; {practice} would be pleasant, on this bike as it was: "
                "{1}.",
       .clash =
           "The knees are {have} apart: beyond {limit} the bike can neither be gripped nor put a "
           "foot down from.",
       .ignoring = {"A bike nobody likes to ride.", 50, 1000, 6},
       .levers = {"layout.knee_width"},
       .blocks = Blocks::buying},
      {.id = "ground-clearance",
       .codes = "K39",
       .title = "ground clearance under the parts",
       .between = {"donor"},
       .needs = {"layout.ground_clearance"},
       .options = {"donor.ground_clearance"},
       .judge =
           [](const In& in) {
             const double least = 120 * mm;
             return at_least(in[0], least).kept_to(std::max(least, in.or_else(1, least)));
           },
       .kind = Kind::length,
       .fits = "Laden, {have} remain under the lowest part.",
       .tight =
           "Laden, {have} remain under the lowest part; it was {1}. A skid plate under the box.",
       .clash = "Laden, only {have} remain under the lowest part: kerbs and bumps strike the box.",
       .can_hurt = true,
       .ignoring = {"A dented pack, which may burn later.", 100, 3000, 6},
       .levers = {"layout.ground_clearance"},
       .blocks = Blocks::riding},
      {.id = "lean-angle",
       .codes = "K40",
       .title = "lean angle with the parts",
       .between = {"donor"},
       .needs = {"layout.lean_angle"},
       .options = {"donor.lean_angle"},
       .judge =
           [](const In& in) {
             const double street = 40 * degree, was = in.or_else(1, street);
             return at_least(in[0], 0.97 * std::min(street, was)).kept_to(0.99 * was);
           },
       .kind = Kind::angle,
       .fits = "The parts allow a lean of {have}; it was {1}.",
       .tight =
           "The parts allow a lean of {have}; it was {1}. They touch before the pegs do, and a "
           "box does not fold up.",
       .clash =
           "The parts allow a lean of only {have}: a hard part that touches levers the wheels off "
           "the road.",
       .can_hurt = true,
       .ignoring = {"A fall in a bend.", 100, 3000, 6},
       .levers = {"layout.lean_angle"},
       .blocks = Blocks::riding},
  };
}

std::vector<Rule> place_rules() {
  return {
      {.id = "pack-piece-mass",
       .codes = "K43",
       .title = "heaviest piece of the pack against who lifts it",
       .between = {"pack"},
       .needs = {"layout.pack_lift_mass", "surroundings.two_people"},
       .judge =
           [](const In& in) {
             const bool two = in.yes(1);
             return at_most(in[0], two ? 50 : 25).kept_to(two ? 40 : 20);
           },
       .kind = Kind::mass,
       .fits = "The heaviest piece has {have}.",
       .tight = "The heaviest piece has {have}: near the end of what one person (25 kg) or two (50 "
                "kg) lift into a frame. Lifting points, and a hoist.",
       .clash =
           "The heaviest piece has {have}, a second person: {1}. That takes a hoist or a pack in "
           "more pieces; a dropped pack shorts.",
       .can_hurt = true,
       .ignoring = {"A hurt back or a dropped pack; every repair is a day.", 0, 1500, 1},
       .levers = {"surroundings.two_people=yes", "layout.pack_lift_mass"},
       .blocks = Blocks::energising},
      {.id = "box-breathes",
       .codes = "K47",
       .title = "vent and drain of the box",
       .between = {"pack"},
       .needs = {"pack.vent", "pack.drain"},
       .judge =
           [](const In& in) {
             if (in.yes(0) && in.yes(1)) return judged(Verdict::fits);
             return judged(in.yes(0) ? Verdict::tight : Verdict::clash);
           },
       .fits = "The box breathes away from the rider and drains at its lowest point.",
       .tight = "The box breathes but has no drain: rain and condensed water stay in it.",
       .clash = "The box has no vent (drain: {1}). Gas from a failing cell has no way out but "
                "through the lid, towards the rider.",
       .can_hurt = true,
       .ignoring = {"Corroded taps; in a fault a box that bursts.", 20, 1500, 3},
       .levers = {"pack.vent=yes", "pack.drain=yes"},
       .blocks = Blocks::riding},
      {.id = "controller-dry",
       .codes = "K48",
       .title = "where the controller sits",
       .between = {"controller"},
       .needs = {"layout.controller_dry"},
       .options = {"controller.ingress"},
       .judge =
           [](const In& in) {
             if (in.yes(0)) return judged(Verdict::fits);
             return judged(in[1] >= 5 ? Verdict::tight : Verdict::clash);
           },
       .fits = "The controller sits dry, connectors down, base flat on its plate.",
       .tight = "The controller does not sit dry with its connectors down; its case keeps jets out "
                "(second digit {1}), but plugs fill with water and a base that is not flat stays "
                "hot.",
       .clash =
           "The controller does not sit dry with its connectors down, and its case is not known "
           "to keep jets out (second digit {1}).",
       .ignoring = {"A dead controller after the first rain.", 100, 1500, 4},
       .levers = {"layout.controller_dry=yes", "controller"},
       .blocks = Blocks::riding},
      {.id = "hub-width",
       .codes = "K51",
       .title = "hub motor between the dropouts",
       .between = {"motor", "donor"},
       .needs = {"motor.dropout_width", "donor.dropout_width"},
       .options = {"gearing.drive", "motor.type"},
       .applies = [](const In& in) { return hub_driven(in, 2, 3); },
       .judge =
           [](const In& in) {
             if (in[0] > in[1] + 0.5 * mm) return judged(Verdict::clash);
             return should(in[0] >= in[1] - 1 * mm);
           },
       .fits = "The motor wants {0}; the dropouts are {1} apart.",
       .tight = "The motor wants {0}; the dropouts are {1} apart. Fill with turned spacers; never "
                "draw an arm together with the nut.",
       .clash = "The motor wants {0}; the dropouts are only {1} apart. Do not spread the arms.",
       .ignoring = {"A wheel motor that cannot be mounted.", 200, 1200, 6},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "hub-axle-flats",
       .codes = "K51",
       .title = "axle flats of the hub motor in the dropout's slot",
       .between = {"motor", "donor"},
       .needs = {"motor.axle_flats", "donor.axle_slot"},
       .options = {"gearing.drive", "motor.type"},
       .applies = [](const In& in) { return hub_driven(in, 2, 3); },
       .judge =
           [](const In& in) {
             const double play = in[1] - in[0];
             if (play < 0 || play > 2 * mm) return judged(Verdict::clash);
             return should(play <= 0.3 * mm);
           },
       .fits = "Flats of {0} in a slot of {1}.",
       .tight =
           "Flats of {0} in a slot of {1}: they knock at every change of torque. The arms must "
           "take all of it.",
       .clash = "Flats of {0} and a slot of {1} do not go together.",
       .can_hurt = true,
       .ignoring = {"The axle spins out and cuts its own cables.", 100, 1500, 5},
       .levers = {"motor"},
       .blocks = Blocks::buying},
      {.id = "hub-torque-arms",
       .codes = "K51",
       .title = "torque arms of the hub motor",
       .between = {"motor"},
       .needs = {"layout.torque_arms"},
       .options = {"gearing.drive", "motor.type"},
       .applies = [](const In& in) { return hub_driven(in, 1, 2); },
       .judge = [](const In& in) { return must(in.yes(0)); },
       .fits = "Torque arms hold the axle on both sides.",
       .tight = {},
       .clash = "No torque arms on both sides: the axle opens the slot and spins, the phase cables "
                "are cut and the wheel drops out.",
       .can_hurt = true,
       .ignoring = {"A wheel that comes out while riding.", 40, 2000, 3},
       .levers = {"layout.torque_arms=yes"},
       .blocks = Blocks::riding,
       .never = "tight",
       .never_why = "they are there or they are not"},
  };
}

}  // namespace ww::fit
