// SPDX-License-Identifier: MIT
// Labels to print at true size, cut and put under clear sleeve or tape.
#include <cmath>

#include "base/text.h"
#include "prints/figures.h"
#include "prints/paper.h"
#include "wiring/readings.h"

namespace ww::prints {

using draw::Anchor;

namespace {

/// Fills A4 pages with cells of one size, row by row.
class Sheet {
 public:
  Sheet(std::string subtitle, std::string note, double width, double height)
      : subtitle_(std::move(subtitle)), note_(std::move(note)), width_(width), height_(height) {}

  /// The next cell, cut lines drawn.
  draw::Box next() {
    const draw::Box area = area_of(Format::a4);
    const int columns = static_cast<int>((area.right - area.left) / width_);
    if (leaves_.empty() || y_ + height_ > area.bottom) begin(area);
    const double x = area.left + column_ * width_;
    const draw::Box box{x, y_, x + width_, y_ + height_};
    draw::Element cut = rectangle(box, thin);
    cut.style.line = draw::Ink::faint;
    put(cut);
    if (++column_ == columns) {
      column_ = 0;
      y_ += height_;
    }
    return box;
  }
  void put(draw::Element element) { leaves_.back().parts.push_back(std::move(element)); }
  std::vector<Leaf> take() { return std::move(leaves_); }

 private:
  void begin(const draw::Box& area) {
    leaves_.push_back(
        {Format::a4,
         subtitle_,
         "1:1",
         "Labels name a wire; they do not say that it is dead. Put each on before the "
         "second lug is crimped. Print without 'fit to page' and measure the bar.",
         {}});
    const auto lines = lines_in(note_, small_mm, area.right - area.left - 108);
    double at = area.top + 4;
    for (const auto& words : lines) {
      put(text(area.left, at, words, small_mm));
      at += 4.6;
    }
    // 100 mm to hold a rule against.
    const double right = area.right - 1, y = area.top + 3;
    put(line(right - 100, y, right, y));
    put(line(right - 100, y - 2, right - 100, y + 2));
    put(line(right, y - 2, right, y + 2));
    put(text(right - 50, y + 5, "100 mm", small_mm, Anchor::middle));
    y_ = std::max(at, area.top + 12) + 1;
    column_ = 0;
  }

  std::string subtitle_, note_;
  double width_, height_;
  std::vector<Leaf> leaves_;
  double y_ = 0;
  int column_ = 0;
};

/// Label of a wire's end: its name large, where it goes, what it is.
void wire_label(Sheet& sheet, const Subject& subject, std::size_t index, bool at_from) {
  const auto& wire = subject.circuit->wires[index];
  const draw::Box box = sheet.next();
  const std::string here = subject.circuit->end_text(at_from ? wire.from : wire.to);
  const std::string there = subject.circuit->end_text(at_from ? wire.to : wire.from);
  sheet.put(strong(box.left + 1.5, box.top + 8, wire.label, big_mm));
  const double left = box.left + 19, width = box.right - left - 1.5;
  sheet.put(text(left, box.top + 4.4, fitted(here, small_mm, width), small_mm));
  sheet.put(text(left, box.top + 8.6, fitted("> " + there, small_mm, width), small_mm));
  const std::string size = section_words(sized(subject, index).section_m2) + " mm2 " +
                           (wire.cores > 1 ? "x " + std::to_string(wire.cores) + " " : "") +
                           colour_letters(wire.colour);
  sheet.put(text(left, box.top + 12.8, fitted(size, small_mm, width), small_mm));
}

void device_label(Sheet& sheet, const wiring::Device& device) {
  const draw::Box box = sheet.next();
  const double width = box.right - box.left - 4;
  sheet.put(
      strong(box.left + 2, box.top + 6.4, fitted(device.label, head_mm, width / 1.1), head_mm));
  double at = box.top + 11.4;
  for (const auto& words : lines_in(device.why, small_mm, width)) {
    if (at > box.bottom - 1.5) break;
    sheet.put(text(box.left + 2, at, words, small_mm));
    at += 4.4;
  }
}

struct Warning {
  const char *head, *body;
};

void warning_label(Sheet& sheet, const Warning& warning) {
  const draw::Box box = sheet.next();
  const draw::Box rim{box.left + 2, box.top + 2, box.right - 2, box.bottom - 2};
  sheet.put(rectangle(rim, thick));
  const double x = rim.left + 3, y = rim.top + 21;
  sheet.put({.shape = draw::Polyline{{{x, y}, {x + 19, y}, {x + 9.5, y - 16.5}}, true},
             .style = {.width = thick}});
  sheet.put(
      {.shape =
           draw::Polyline{
               {{x + 10.8, y - 11.4}, {x + 7.4, y - 6}, {x + 11, y - 6.6}, {x + 8.4, y - 1.6}}},
       .style = {.width = plain}});
  const double left = x + 22, width = rim.right - left - 2;
  double at = rim.top + 7;
  for (const auto& words : lines_in(warning.head, head_mm, width / 1.12)) {
    sheet.put(strong(left, at, words, head_mm));
    at += 6;
  }
  at += 0.6;
  for (const auto& words : lines_in(warning.body, small_mm, width)) {
    sheet.put(text(left, at, words, small_mm));
    at += 4.6;
  }
}

std::vector<Warning> warnings_of(const Subject& subject) {
  std::vector<Warning> out;
  if (dangerous(subject)) {
    out.push_back({"Over 60 V DC",
                   "Can kill. Open only with the service disconnect out and after "
                   "measuring."});
    out.push_back({"Over 60 V DC", "Orange cables: pack voltage. Do not cut, do not unplug."});
    out.push_back({"Over 60 V DC",
                   "Can kill. Open only with the service disconnect out and after "
                   "measuring."});
  }
  out.push_back({"Charge stays here",
                 "Capacitors. After key off wait, then measure: below 10 V "
                 "before a hand goes near."});
  out.push_back({"Never dead",
                 "Battery. It cannot be switched off. Insulated tools, no rings, no "
                 "watch."});
  out.push_back({"Service disconnect",
                 "Open it by hand before work. Never with current flowing: "
                 "contactor off first."});
  if (subject.circuit->device("charger") != nullptr)
    out.push_back({"Mains inside", "Unplug before opening. Pack side stays live."});
  out.push_back({"Motor may turn",
                 "Wheel off the ground before the key is turned with a cover "
                 "off."});
  out.push_back({"To the fire crew",
                 "Lithium or lead battery. Water in plenty, keep away, it may "
                 "burn again."});
  return out;
}

}  // namespace

Print labels(const Subject& subject) {
  Sheet wires("wires, both ends",
              "Each wire twice, the near end first. > where the other end goes.", 87, 14.5);
  std::string csv = csv_line({"kind", "label", "at", "goes_to", "words"});
  for (std::size_t i = 0; i < subject.circuit->wires.size(); ++i) {
    const auto& wire = subject.circuit->wires[i];
    for (const bool at_from : {true, false}) {
      wire_label(wires, subject, i, at_from);
      csv += csv_line(
          {"wire", wire.label, subject.circuit->end_text(at_from ? wire.from : wire.to),
           subject.circuit->end_text(at_from ? wire.to : wire.from),
           section_words(sized(subject, i).section_m2) + " mm2 " + colour_letters(wire.colour)});
    }
  }
  Sheet devices("devices", "One for each device, with what it is there for.", 87, 26);
  for (const auto& device : subject.circuit->devices) {
    device_label(devices, device);
    csv += csv_line({"device", device.label, std::string(word(device.place)), "", device.why});
  }
  Sheet warnings("warnings", "For boxes, covers and cables; on yellow paper they are seen.", 87,
                 44);
  for (const Warning& warning : warnings_of(subject)) {
    warning_label(warnings, warning);
    csv += csv_line({"warning", warning.head, "", "", warning.body});
  }
  auto leaves = wires.take();
  for (auto more : {devices.take(), warnings.take()})
    leaves.insert(leaves.end(), more.begin(), more.end());
  return {"labels", "Label sheet", framed(subject, "Label sheet", leaves), csv};
}

}  // namespace ww::prints
