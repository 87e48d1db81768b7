// SPDX-License-Identifier: MIT
// Field tables of what is not bought: the bike as found, the rider, the wishes, the surroundings.
#include "build/declare.h"

namespace ww::build {

using namespace declare;

const Table& project_fields() {
  static const Table table = [] {
    using S = Project;
    Fields<S> t(8);
    t.text<M(name), "what this conversion is called");
    t.text<M(builder), "who builds it");
    t.text<M(notes), "notes");
    t.choice<M(next_step), "the step you are about to take", {"unknown", "dreaming", "buying", "energising", "riding"});
    t.text<M(currency), "currency of every price (three letters)");
    return t.all_decided();
  }();
  return table;
}

const Table& donor_fields() {
  static const Table table = [] {
    using S = Donor;
    Fields<S> t(100);
    t.choice<M(bike_class), "class of bike", {"unknown", {"naked_125", "naked, 125 cc"}, {"single_250_300", "single, 250 to 300 cc"},
        {"twin_400_500", "twin, 400 to 500 cc"}, {"twin_600_650", "twin, 600 to 650 cc"}, {"sport_600", "sport, 600 cc"}, {"cruiser_750_900", "cruiser, 750 to 900 cc"},
        {"enduro_250_450", "enduro, 250 to 450 cc"}, {"scooter_125_300", "scooter, 125 to 300 cc"}});
    t.text<M(model), "make, model and year");
    t.choice<M(frame), "kind of frame", {"unknown", {"cradle_steel", "steel cradle"}, {"stressed_engine", "engine as a stressed member"}, {"twin_spar_aluminium", "aluminium twin spar"}, "backbone", {"step_through", "step-through"}});
    t.answer<M(title_clear), "papers clear and in the seller's name").how("frame number against the papers, before paying");
    t.answer<M(frame_cut), "frame cut or welded on");
    t.answer<M(abs), "has anti-lock brakes");
    t.answer<M(kept_gearbox), "the gearbox stays in");
    t.answer<M(inspector_asked), "inspector asked, answer in writing").how("ask the authority for its own list before turning a wrench");
    t.answer<M(insurer_asked), "insurer asked, answer in writing");
    t.figure<M(price), "price of the donor", Kind::money, 0, 1e5);
    t.figure<M(parts_sold), "brought in by parts sold", Kind::money, 0, 1e5);
    t.figure<M(mass_wet), "wet mass as it came", Kind::mass, 50, 450).how("two bathroom scales under the wheels, level, added");
    t.figure<M(mass_rolling), "rolling chassis after the strip", Kind::mass, 30, 350).how("two scales under the wheels at equal height, bike upright, average of three");
    t.figure<M(gross_mass), "gross mass on the plate", Kind::mass, 100, 700).how("the maker's plate or the registration paper");
    t.figure<M(axle_front_max), "front axle limit on the plate", Kind::mass, 40, 400).how("the maker's plate or manual");
    t.figure<M(axle_rear_max), "rear axle limit on the plate", Kind::mass, 40, 500).how("the maker's plate or manual");
    t.figure<M(load_front), "front wheel load, stripped", Kind::mass, 10, 300).how("scale under the front wheel, a block of equal height under the rear");
    t.figure<M(load_rear), "rear wheel load, stripped", Kind::mass, 10, 300).how("scale under the rear wheel, a block of equal height under the front");
    t.figure<M(cog_height), "centre of gravity above ground, with rider", Kind::length, 300 * mm, 1000 * mm).how("lock the suspension, lift the rear axle 300 mm, read how much the front scale gains");
    t.figure<M(wheelbase), "wheelbase at ride height", Kind::length, 1000 * mm, 2000 * mm).how("plumb bobs from both axles to tape on a level floor");
    t.figure<M(bay_length), "clear length of the bay", Kind::length, 100 * mm, 900 * mm).how("telescoping sticks from the down-tube to the swingarm pivot, at 50 mm steps of height; enter the smallest");
    t.figure<M(bay_width), "clear width of the bay", Kind::length, 80 * mm, 700 * mm).how("internal caliper between the frame tubes at five stations; enter the smallest");
    t.figure<M(bay_height), "clear height of the bay", Kind::length, 80 * mm, 800 * mm).how("from the lower rails to the tank or the top tube");
    t.figure<M(side_left), "room from the centre plane to the left cover or heel", Kind::length, 30 * mm, 400 * mm).how("rider seated, straight-edge at the heel, tape to the wheel's centre plane");
    t.figure<M(side_right), "room from the centre plane to the right cover or heel", Kind::length, 30 * mm, 400 * mm).how("rider seated, straight-edge at the heel, tape to the wheel's centre plane");
    t.figure<M(tunnel_length), "length under the tank cover", Kind::length, 100 * mm, 800 * mm).how("cardboard slices");
    t.figure<M(tunnel_width), "width under the tank cover", Kind::length, 40 * mm, 500 * mm).how("cardboard slices");
    t.figure<M(tunnel_height), "height under the tank cover", Kind::length, 20 * mm, 500 * mm).how("cardboard slices");
    t.figure<M(knee_width), "width between the knees, original", Kind::length, 100 * mm, 600 * mm).how("rider seated, calipers across the knees against the tank");
    t.figure<M(ground_clearance), "ground clearance, original, laden", Kind::length, 50 * mm, 500 * mm).how("tape under the lowest rail, rider seated");
    t.figure<M(lean_angle), "lean angle to the first hard part, original", Kind::angle, 10 * deg, 65 * deg).how("string from the tyre's edge to peg or rail, angle gauge");
    t.figure<M(mount_holes_measured), "how exactly the frame's mount holes are known", Kind::length, 0, 20 * mm).how("centre punches and a transfer plate, or a paper rubbing scanned with a ruler");
    t.figure<M(chainline), "chainline: rear tooth centre to wheel centre plane", Kind::length, 20 * mm, 150 * mm).how("straight-edge across the sprocket's face, tape to the rim on both sides, halve; before the strip");
    t.figure<M(sprocket_x), "original front sprocket ahead of the pivot", Kind::length, 0, 300 * mm).how("before the engine leaves: caliper and square");
    t.figure<M(sprocket_z), "original front sprocket above the pivot", Kind::length, -150 * mm, 200 * mm).how("before the engine leaves: caliper and square");
    t.figure<M(swingarm_length), "swingarm pivot to rear axle, shortest", Kind::length, 250 * mm, 900 * mm).how("tape, adjuster slack");
    t.figure<M(swingarm_length_max), "swingarm pivot to rear axle, longest", Kind::length, 250 * mm, 950 * mm).how("tape, adjuster at its end");
    t.figure<M(swingarm_width_at_chain), "swingarm outside width at the chain run", Kind::length, 50 * mm, 500 * mm).how("caliper");
    t.figure<M(swingarm_top), "top of the pivot tube or slider above the pivot centre", Kind::length, 5 * mm, 120 * mm).how("caliper");
    t.figure<M(swingarm_to_sprocket), "radius from the axle that is free at the swingarm and tyre", Kind::length, 60 * mm, 300 * mm).how("compass or cardboard disc on the axle: the largest that turns freely");
    t.figure<M(guard_to_sprocket), "radius from the axle that is free at the guard", Kind::length, 60 * mm, 300 * mm).how("cardboard disc on the axle: the largest that turns freely under the guard");
    t.figure<M(hub_bolt_circle), "rear hub bolt circle", Kind::length, 30 * mm, 250 * mm).how("caliper; for an odd number of holes the distance of neighbours / sin(180 deg / holes)");
    t.count<M(hub_bolts), "rear hub bolts", 3, 12).how("count");
    t.figure<M(hub_bolt), "rear hub bolt size", Kind::length, 5 * mm, 14 * mm).how("caliper on the thread");
    t.figure<M(hub_bore), "rear hub centring diameter", Kind::length, 20 * mm, 200 * mm).how("caliper; +- 0.1 mm");
    t.figure<M(hub_offset), "sprocket face to hub face", Kind::length, -40 * mm, 40 * mm).how("depth gauge");
    t.answer<M(cush_drive), "has a rubber cush drive in the hub");
    t.figure<M(shaft_ratio), "fixed ratio of a shaft drive", Kind::ratio, 1, 8).how("turn the coupling, count per wheel turn");
    t.figure<M(gearbox_ratio), "ratio of the kept gearbox in the gear used", Kind::ratio, 0.5, 20).how("turn the input, count per output turn");
    t.figure<M(gearbox_speed_max), "highest input speed of the kept gearbox", Kind::rotation, 500 * rpm, 16000 * rpm).how("the original engine's red line / primary ratio");
    t.figure<M(dropout_width), "width between the dropouts", Kind::length, 80 * mm, 400 * mm).how("caliper");
    t.figure<M(axle_slot), "axle slot height in the dropout", Kind::length, 8 * mm, 30 * mm).how("caliper");
    t.figure<M(travel_front), "front suspension travel", Kind::length, 50 * mm, 350 * mm).how("manual, or tie-wrap on the fork tube");
    t.figure<M(travel_rear), "rear wheel travel", Kind::length, 40 * mm, 350 * mm).how("manual, or measure topped out and at full bump");
    t.figure<M(spring_front), "front spring rate, one leg", Kind::stiffness, 2000, 30000).how("manual, or compress on a scale: kg per mm");
    t.figure<M(spring_rear), "rear wheel rate", Kind::stiffness, 3000, 80000).how("manual, or load the tail and measure the drop");
    t.figure<M(sprung_front), "front sprung load with rider, before", Kind::mass, 20, 250).how("front scale with rider less wheel, brake and lower fork");
    t.figure<M(sprung_rear), "rear sprung load with rider, before", Kind::mass, 20, 350).how("rear scale with rider less wheel and half the swingarm");
    t.figure<M(sag_rider_front), "front sag with rider", Kind::length, 0, 200 * mm).how("three readings: L1 - (L2 + L3) / 2");
    t.figure<M(sag_rider_rear), "rear sag with rider", Kind::length, 0, 200 * mm).how("three readings: L1 - (L2 + L3) / 2");
    t.figure<M(preload_rear), "rear spring preload", Kind::length, 0, 60 * mm).how("free spring length less fitted length");
    t.figure<M(stand_angle), "lean on the side stand", Kind::angle, 2 * deg, 30 * deg).how("angle gauge on the wheel");
    t.figure<M(top_speed_original), "top speed as it was", Kind::speed, 40 * km_h, 320 * km_h).how("registration paper or manual");
    t.figure<M(power_original), "engine power as it was", Kind::power, 1 * kW, 200 * kW).how("registration paper");
    t.figure<M(original_front_share), "share of the weight on the front wheel, as it was", Kind::share, 0.3, 0.65).how("two scales before the strip");
    t.figure<M(load_headlight), "headlamp load", Kind::power, 0, 200).how("the lamp's label, or a clamp meter");
    t.figure<M(load_rear_lamps), "tail and stop lamp load", Kind::power, 0, 100).how("the lamps' labels");
    t.figure<M(load_indicators), "indicator load while lit", Kind::power, 0, 100).how("the lamps' labels, two of them");
    t.figure<M(load_horn), "horn load", Kind::power, 0, 200).how("its label");
    t.figure<M(load_other), "other 12 V loads", Kind::power, 0, 400).how("labels: heated grips, instruments, tracker");
    t.choice<M(lamps), "lamps", {"unknown", {"filament", "filament bulbs"}, {"led", "LED"}});
    t.choice<M(flasher), "flasher unit", {"unknown", "thermal", "electronic"});
    t.figure<M(bar_diameter), "handlebar diameter at the grip", Kind::length, 15 * mm, 40 * mm).how("caliper; 22 mm is usual");
    t.figure<M(bar_free_length), "free bar length for the grip", Kind::length, 50 * mm, 300 * mm).how("tape, switch block in place");
    t.figure<M(drag_area), "drag area with rider (CdA)", Kind::area, 0.15, 1.2)
        .prior(0.55, 0.08, "standard motorcycle road load, 40 CFR 86.529-98, gives 0.48 to 0.60 m2 by mass")
        .how("coast down from 90 to 50 km/h, both ways, no wind; until then the class of bike");
    t.figure<M(rolling_resistance), "rolling resistance coefficient", Kind::ratio, 0.005, 0.06)
        .prior(0.015, 0.003, "road tyre, warm: common practice, no source")
        .how("coast down at walking speed on a level floor, or pull with a luggage scale");
    t.figure<M(rolling_resistance_v2), "growth of rolling resistance with speed squared (per (m/s)^2)", Kind::ratio, 0, 1e-4)
        .prior(0, 0, "constant coefficient assumed: common practice, no source")
        .how("the fast end of a coast-down");
    t.figure<M(wheel_inertia_front), "front wheel inertia", Kind::inertia, 0.05, 2).prior(0.5, 0.1, "from memory").how("hang the wheel on two strings, time its swing");
    t.figure<M(wheel_inertia_rear), "rear wheel inertia", Kind::inertia, 0.05, 3).prior(0.7, 0.15, "from memory").how("hang the wheel on two strings, time its swing");
    return t.done();
  }();
  return table;
}

const Table& rider_fields() {
  static const Table table = [] {
    using S = Rider;
    Fields<S> t(8);
    t.figure<M(mass), "rider with gear", Kind::mass, 35, 200).prior(88, 14, "common practice, no source").how("bathroom scale, helmet and boots on");
    t.figure<M(passenger_mass), "passenger with gear", Kind::mass, 0, 180).how("bathroom scale; 0 where nobody rides along");
    t.figure<M(luggage_mass), "luggage", Kind::mass, 0, 120).how("bathroom scale");
    t.choice<M(posture), "how the rider sits", {"unknown", "upright", {"leaning", "leaning forward"}, "tucked", {"upright_with_luggage", "upright, with luggage"}});
    t.figure<M(lean_side_width), "width at the heels", Kind::length, 100 * mm, 700 * mm).how("rider seated, tape across the heels");
    return t.done();
  }();
  return table;
}

const Table& wishes_fields() {
  static const Table table = [] {
    using S = Wishes;
    Fields<S> t(20);
    t.figure<M(hold_speed), "speed to hold", Kind::speed, 15 * km_h, 250 * km_h);
    t.figure<M(top_speed), "top speed", Kind::speed, 15 * km_h, 300 * km_h);
    t.figure<M(ride_distance), "longest ride between plugs", Kind::length, 1000, 1e6);
    t.figure<M(fast_share), "share of it that is fast", Kind::share, 0, 1);
    t.figure<M(hill_grade), "steepest hill to climb (rise over run)", Kind::share, 0, 0.6);
    t.figure<M(hill_speed), "speed on that hill", Kind::speed, 5 * km_h, 200 * km_h);
    t.figure<M(time_0_100), "0 to 100 km/h within", Kind::time, 1, 120);
    t.figure<M(budget), "money there is, donor included", Kind::money, 100, 1e6);
    t.figure<M(time), "hours there are a week", Kind::time, 0, 100 * hour);
    t.figure<M(months), "to be riding within", Kind::time, week, 10 * year);
    t.figure<M(charge_time), "full again within", Kind::time, 600, 48 * hour);
    t.figure<M(mass_max), "heaviest it may get, without rider", Kind::mass, 40, 500);
    t.choice<M(licence), "licence", {"unknown", {"moped_4kW", "moped, 4 kW"}, {"light_11kW", "light, 11 kW"}, {"medium_35kW", "medium, 35 kW"}, {"full", "without limit"}});
    return t.all_decided();
  }();
  return table;
}

const Table& surroundings_fields() {
  static const Table table = [] {
    using S = Surroundings;
    Fields<S> t(24);
    t.figure<M(coldest), "coldest day you ride", Kind::temperature, celsius(-40), celsius(40)).prior(celsius(0), 5, "common practice, no source").how("your own winter; the weather service's figures");
    t.figure<M(hottest), "hottest day you ride", Kind::temperature, celsius(0), celsius(55)).prior(celsius(35), 4, "common practice, no source").how("the weather service's figures");
    t.figure<M(usual_temperature), "usual riding temperature", Kind::temperature, celsius(-20), celsius(45)).prior(celsius(20), 4, "common practice, no source").how("the weather service's figures");
    t.figure<M(altitude), "height above sea", Kind::length, -400, 5000).prior(100, 150, "common practice, no source").how("a map");
    t.figure<M(wind_mean), "mean wind where you ride, at rider height", Kind::speed, 0, 20).prior(2.5, 1.2, "Rayleigh winds of 4 to 5 m/s at 10 m, less near the ground: from memory").how("the weather service's mean at 10 m height times 0.6");
    t.figure<M(storage_temperature), "where the bike stands, mean temperature", Kind::temperature, celsius(-10), celsius(45)).prior(celsius(15), 4, "common practice, no source").how("a thermometer in the garage");
    t.figure<M(storage_charge), "charge it usually stands at", Kind::share, 0.05, 1).prior(0.7, 0.12, "common practice, no source").how("your own habit").decided();
    t.figure<M(outlet_voltage), "voltage at the outlet", Kind::voltage, 90, 260).how("the country's mains: 120 V or 230 V");
    t.figure<M(outlet_breaker), "breaker of that outlet", Kind::current, 5, 63).how("the number on the breaker's lever");
    t.figure<M(outlet_use), "current you allow yourself to draw from it for hours", Kind::current, 1, 63).how("an electrician's answer for this circuit");
    t.answer<M(outlet_temperature_sensed), "the plug has temperature sensing");
    t.answer<M(charging_allowed), "landlord and insurer allow charging there").how("ask in writing");
    t.answer<M(parked_in_sun), "stands in the sun by day");
    t.answer<M(two_people), "a second person is there for lifting, first power and first ride");
    t.figure<M(storage_time), "longest time it stands unused", Kind::time, day, 2 * year).prior(3 * month, month, "common practice, no source").how("your own winter");
    t.figure<M(distance_per_week), "distance ridden a week", Kind::length, 1000, 2e6).prior(80e3, 40e3, "common practice, no source").how("the odometer of the bike you ride now");
    t.figure<M(years), "years it shall last", Kind::time, year, 30 * year).prior(5 * year, 0, "common practice, no source").decided();
    return t.done();
  }();
  return table;
}

}  // namespace ww::build
