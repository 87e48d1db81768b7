// SPDX-License-Identifier: MIT
#include "ride/ridden.h"

#include <cstring>
#include <limits>

namespace ww::ride {

namespace {

std::string bits_of(const BikeNumbers& bike) {
  std::string bits(sizeof bike.at + 1, static_cast<char>(bike.motor));
  std::memcpy(bits.data(), bike.at.data(), sizeof bike.at);
  return bits;
}

}  // namespace

bool same_bits(const BikeNumbers& a, const BikeNumbers& b) {
  return bits_of(a) == bits_of(b);
}

const Answers<double>* Ridden::find(const BikeNumbers& bike, AnswerSet wanted) const {
  const auto entry = entries_.find(bits_of(bike));
  if (entry == entries_.end() || !without(wanted, entry->second.known).empty()) return nullptr;
  return &entry->second.answers;
}

void Ridden::note(const BikeNumbers& bike, const Answers<double>& answers, AnswerSet known) {
  const auto [place, fresh] = entries_.try_emplace(bits_of(bike));
  Entry& entry = place->second;
  if (fresh) entry.answers.at.fill(std::numeric_limits<double>::quiet_NaN());
  for (std::size_t a = 0; a < answer_count; ++a) {
    if (known.has(static_cast<Answer>(a))) entry.answers.at[a] = answers.at[a];
  }
  entry.known = entry.known | known;
}

}  // namespace ww::ride
