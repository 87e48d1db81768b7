// SPDX-License-Identifier: MIT
// Enough of an XML reader for tests: says what is not well-formed, and lists the elements.
#pragma once

#include <cctype>
#include <cstdlib>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace ww::support {

struct XmlElement {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;          ///< directly inside
  std::vector<int> parents;  ///< indices, outermost first

  std::string at(const std::string& key) const {
    const auto found = attributes.find(key);
    return found == attributes.end() ? std::string() : found->second;
  }
  double number(const std::string& key) const { return std::strtod(at(key).c_str(), nullptr); }
};

struct Xml {
  std::vector<XmlElement> elements;
  std::string wrong;  ///< the first fault; empty where there is none
};

class XmlReader {
 public:
  static Xml read(std::string_view text) {
    XmlReader reader(text);
    reader.run();
    return std::move(reader.out_);
  }

 private:
  explicit XmlReader(std::string_view text) : text_(text) {}

  void fault(const std::string& what) {
    if (out_.wrong.empty())
      out_.wrong = what + " at " + std::to_string(at_) + ": " +
                   std::string(text_.substr(at_ > 20 ? at_ - 20 : 0, 60));
    at_ = text_.size();
  }
  static bool name_char(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_' || c == ':';
  }
  std::string name() {
    std::string out;
    while (at_ < text_.size() && name_char(text_[at_])) out += text_[at_++];
    if (out.empty()) fault("a name is missing");
    return out;
  }
  void space() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_])) != 0) ++at_;
  }
  bool next(std::string_view what) {
    if (text_.substr(at_, what.size()) != what) return false;
    at_ += what.size();
    return true;
  }
  /// Text up to `end`, entities resolved.
  std::string value(char end) {
    std::string out;
    while (at_ < text_.size() && text_[at_] != end) {
      const char c = text_[at_];
      if (c == '<') {
        fault("'<' inside a value");
        return out;
      }
      if (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t') fault("a control byte");
      if (c != '&') {
        out += c;
        ++at_;
        continue;
      }
      bool known = false;
      for (const auto& [entity, letter] :
           {std::pair{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}}) {
        if (!known && next(entity)) {
          out += letter;
          known = true;
        }
      }
      if (!known) fault("an unknown entity");
    }
    return out;
  }
  void element() {
    XmlElement e;
    e.name = name();
    e.parents = open_;
    for (space(); at_ < text_.size() && text_[at_] != '>' && text_[at_] != '/'; space()) {
      const std::string key = name();
      if (!next("=\"")) return fault("an attribute without a value");
      const std::string v = value('"');
      if (!next("\"")) return fault("an attribute without an end");
      if (!e.attributes.emplace(key, v).second) return fault("an attribute twice");
    }
    const bool empty = next("/");
    if (!next(">")) return fault("a tag without an end");
    out_.elements.push_back(std::move(e));
    if (!empty) open_.push_back(static_cast<int>(out_.elements.size()) - 1);
  }
  void run() {
    if (next("<?xml")) {
      const auto end = text_.find("?>", at_);
      if (end == std::string_view::npos) return fault("a declaration without an end");
      at_ = end + 2;
    }
    int roots = 0;
    while (at_ < text_.size()) {
      if (next("</")) {
        const std::string closing = name();
        if (open_.empty() || out_.elements[static_cast<std::size_t>(open_.back())].name != closing)
          return fault("</" + closing + "> closes nothing");
        open_.pop_back();
        if (!next(">")) return fault("a closing tag without an end");
      } else if (next("<")) {
        if (open_.empty()) ++roots;
        element();
      } else {
        const std::string text = value('<');
        if (!open_.empty())
          out_.elements[static_cast<std::size_t>(open_.back())].text += text;
        else if (text.find_first_not_of(" \n") != std::string::npos)
          return fault("text outside");
      }
    }
    if (out_.wrong.empty() && (!open_.empty() || roots != 1)) out_.wrong = "tags left open";
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::vector<int> open_;
  Xml out_;
};

}  // namespace ww::support
