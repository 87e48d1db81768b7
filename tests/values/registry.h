// SPDX-License-Identifier: MIT
// How a reference row reaches the function it checks. One *_functions.cpp a topic registers its
// functions with a static Topic object; the rows stand in *.tsv beside it.
#pragma once

#include <functional>
#include <map>
#include <set>
#include <stdexcept>
#include <string>

namespace ww::values {

/// The row's inputs. Asking for one that is not there throws; one never asked for fails the row.
class Given {
 public:
  void put(const std::string& key, const std::string& text) { texts_[key] = text; }
  double operator()(const std::string& key) const { return std::stod(text(key)); }
  /// The number, or `otherwise` where the row does not state it.
  double or_else(const std::string& key, double otherwise) const {
    return texts_.count(key) > 0 ? (*this)(key) : otherwise;
  }
  const std::string& text(const std::string& key) const {
    const auto at = texts_.find(key);
    if (at == texts_.end()) throw std::runtime_error("the row gives no '" + key + "'");
    asked_.insert(key);
    return at->second;
  }
  std::string never_asked() const {
    for (const auto& [key, value] : texts_) {
      if (asked_.count(key) == 0) return key;
    }
    return {};
  }

 private:
  std::map<std::string, std::string> texts_;
  mutable std::set<std::string> asked_;
};

using Function = std::function<double(const Given&)>;

struct Entry {
  std::string header;  ///< where the function is declared: "model/chain.h"
  Function call;
};

inline std::map<std::string, Entry>& registry() {
  static std::map<std::string, Entry> all;
  return all;
}

/// `static const Topic topic("model/chain.h", {{"pitch_diameter_m", [](const Given& g) { ... }}});`
struct Topic {
  Topic(const std::string& header, const std::map<std::string, Function>& functions) {
    for (const auto& [name, call] : functions) registry()[name] = {header, call};
  }
};

}  // namespace ww::values
