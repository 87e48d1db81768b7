// SPDX-License-Identifier: MIT
// How a field is declared, used only by build/fields_*.cpp. A key is its member's name; the macro M
// spells it once.
#pragma once

#include <numbers>
#include <utility>

#include "build/fields.h"

namespace ww::build::declare {

using figure::Kind;
using figure::Trait;

// Plain factors to SI, for limits and priors.
inline constexpr double mm = 1e-3, deg = std::numbers::pi / 180, rpm = std::numbers::pi / 30,
                        km_h = 1 / 3.6;
inline constexpr double mohm = 1e-3, uH = 1e-6, mF = 1e-3, kW = 1e3, Wh = 3600, Ah = 3600,
                        hour = 3600, minute = 60;
inline constexpr double day = 86400, week = 7 * day, month = 30.4375 * day, year = 365.25 * day,
                        kPa = 1e3, mm2 = 1e-6;
inline constexpr double kgf_mm = 9806.65, litre = 1e-3;
constexpr double celsius(double t) {
  return t + 273.15;
}

template <class S, auto Member>
void* reach(void* object) {
  return &(static_cast<S*>(object)->*Member);
}

/// One option of a choice or a set: the word of sheets and JSON, and how people say it where that
/// differs.
struct Option {
  // NOLINTNEXTLINE(google-explicit-constructor): so that a plain word may stand in a list
  constexpr Option(const char* w) : word(w), label(w) {}
  constexpr Option(const char* w, const char* l) : word(w), label(l) {}
  std::string_view word, label;
};
using Options = std::vector<Option>;

/// One field while it is being declared; each call adds one fact.
class Declared {
 public:
  explicit Declared(FieldInfo& info) : info_(&info) {}
  Declared& how(std::string_view text) {
    info_->measure = text;
    return *this;
  }
  Declared& prior(double value, double half_width, std::string_view source) {
    info_->prior = {value, half_width, source};
    return *this;
  }
  Declared& trait(Trait trait) {
    info_->trait = trait;
    return *this;
  }
  /// A number the builder chooses; `how` then says where it shows.
  Declared& decided() {
    info_->decided = true;
    return *this;
  }

 private:
  FieldInfo* info_;
};

template <class S>
class Fields {
 public:
  explicit Fields(std::size_t expected) { table_.fields.reserve(expected); }

  template <auto Member>
  Declared figure(std::string_view key, std::string_view label, Kind kind, double low,
                  double high) {
    FieldInfo& info = add<Member>(key, label, FieldType::figure);
    info.kind = kind;
    info.low = low;
    info.high = high;
    return Declared(info);
  }
  template <auto Member>
  Declared count(std::string_view key, std::string_view label, int low, int high) {
    FieldInfo& info = add<Member>(key, label, FieldType::count);
    info.low = low;
    info.high = high;
    return Declared(info);
  }
  template <auto Member>
  Declared choice(std::string_view key, std::string_view label, const Options& options) {
    return with_options(add<Member>(key, label, FieldType::choice), options);
  }
  template <auto Member>
  Declared answer(std::string_view key, std::string_view label) {
    return choice<Member>(key, label, {"unknown", "no", "yes"});
  }
  template <auto Member>
  Declared set(std::string_view key, std::string_view label, const Options& options) {
    return with_options(add<Member>(key, label, FieldType::set), options);
  }
  template <auto Member>
  Declared text(std::string_view key, std::string_view label) {
    return Declared(add<Member>(key, label, FieldType::text));
  }
  Table done() { return std::move(table_); }
  /// Of a table whose every field is the builder's own choice: wishes, settings.
  Table all_decided() {
    for (FieldInfo& info : table_.fields) info.decided = true;
    return done();
  }

 private:
  static Declared with_options(FieldInfo& info, const Options& options) {
    for (const Option& option : options) {
      info.options.push_back(option.word);
      info.option_labels.push_back(option.label);
    }
    return Declared(info);
  }
  template <auto Member>
  FieldInfo& add(std::string_view key, std::string_view label, FieldType type) {
    FieldInfo& info = table_.fields.emplace_back();
    info.key = key;
    info.label = label;
    info.type = type;
    info.reach = &reach<S, Member>;
    return info;
  }
  Table table_;
};

inline constexpr std::string_view ask =
    "on its label or data sheet; otherwise ask the seller in writing";

/// The fields every bought thing has.
template <class S>
void purchase(Fields<S>& t) {
  t.template text<&S::part>("part", "library id");
  t.template text<&S::name>("name", "what it is called");
  t.template text<&S::link>("link", "where it is sold");
  t.template choice<&S::state>("state", "bought?", {"unknown", "thinking", "ordered", "here"});
  t.template figure<&S::price>("price", "price", Kind::money, 0, 1e6)
      .how("the seller's written quote");
  t.template figure<&S::freight>("freight", "freight and duty, of one", Kind::money, 0, 1e5)
      .how("the seller's written quote");
  t.template figure<&S::lead_time>("lead_time", "time from order to bench", Kind::time, 0, 2 * year)
      .how("ask the seller; 'in stock' may be a factory order");
  t.template figure<&S::return_window>("return_window", "may be sent back within", Kind::time, 0,
                                       2 * year)
      .how("the seller's conditions");
}

template <class S>
void box(Fields<S>& t, double largest) {
  t.template figure<&S::length>("length", "outside length", Kind::length, 1 * mm, largest)
      .how("caliper or tape over everything that sticks out");
  t.template figure<&S::width>("width", "outside width", Kind::length, 1 * mm, largest)
      .how("caliper or tape over everything that sticks out");
  t.template figure<&S::height>("height", "outside height", Kind::length, 1 * mm, largest)
      .how("caliper or tape over everything that sticks out");
}

}  // namespace ww::build::declare

/// `M(mass)` is `&S::mass>("mass"`: the key is spelled once.
#define M(member) &S::member > (#member
