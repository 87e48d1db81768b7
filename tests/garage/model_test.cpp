// SPDX-License-Identifier: MIT
// Random work on the garage against a plain list of texts in memory.
#include <rapidcheck.h>

#include "tests/garage/shed.h"

namespace ww::garage::shed {

namespace {

/// A build as anybody would write it down: what was, what is, what was undone.
struct Plain {
  BuildId id;
  std::vector<std::string> past;
  std::string now;
  std::vector<std::string> undone;
  std::vector<std::string> history;  ///< every text there ever was, in order
};

struct Work {
  Folder folder{in_memory()};
  std::unique_ptr<Garage> garage = std::make_unique<Garage>(opened(folder.file()));
  std::vector<Plain> builds;

  void begin(int value) {
    const Head head = got(garage->create({.name = "b", .text = sheet(value)}));
    builds.push_back({head.build, {}, head.text, {}, {head.text}});
  }

  void edit(Plain& b, int value) {
    const Head head = got(garage->head(b.id));
    const std::string text = sheet(value);
    const auto outcome = got(garage->revise(b.id, {head.revision, text, "edit"}));
    RC_ASSERT(!outcome.stale);
    if (text == b.now) return;
    b.past.push_back(b.now);
    b.undone.clear();
    show(b, text);
  }

  void undo(Plain& b) {
    const Head head = got(garage->head(b.id));
    const auto outcome = garage->undo(b.id, head.revision);
    RC_ASSERT(outcome.has_value() == !b.past.empty());
    if (b.past.empty()) return;
    b.undone.push_back(b.now);
    const std::string text = b.past.back();
    b.past.pop_back();
    show(b, text);
  }

  void redo(Plain& b) {
    const Head head = got(garage->head(b.id));
    const auto outcome = garage->redo(b.id, head.revision);
    RC_ASSERT(outcome.has_value() == !b.undone.empty());
    if (b.undone.empty()) return;
    b.past.push_back(b.now);
    const std::string text = b.undone.back();
    b.undone.pop_back();
    show(b, text);
  }

  void duplicate(const Plain& b) {
    const Head head = got(garage->duplicate(b.id, "copy"));
    builds.push_back({head.build, {}, b.now, {}, {b.now}});
  }

  /// An edit made on any earlier revision writes nothing.
  void late_edit(const Plain& b, int which) {
    const auto history = got(garage->history(b.id, {.count = 1000}));
    if (history.size() < 2) return;
    const std::size_t at = 1 + static_cast<std::size_t>(which) % (history.size() - 1);
    const auto outcome = got(garage->revise(b.id, {history[at].id, sheet(3), "late"}));
    RC_ASSERT(outcome.stale.has_value());
    RC_ASSERT(outcome.now.text == b.now);
    RC_ASSERT(outcome.stale->base_text == b.history[history.size() - 1 - at]);
  }

  void reopen() {
    garage.reset();
    garage = std::make_unique<Garage>(opened(folder.file()));
    RC_ASSERT(garage->opening().how == Opening::How::as_left);
  }

  void look(const Plain& b) const {
    const Head head = got(garage->head(b.id));
    RC_ASSERT(head.text == b.now);
    RC_ASSERT(head.can_undo == !b.past.empty());
    RC_ASSERT(head.can_redo == !b.undone.empty());
  }

  void look_at_history(const Plain& b) const {
    const auto events = got(garage->history(b.id, {.count = 1000}));
    RC_ASSERT(events.size() == b.history.size());
    for (std::size_t i = 0; i < events.size(); ++i) {
      const std::size_t back = events.size() - 1 - i;
      RC_ASSERT(got(garage->revision(events[i].id)).text == b.history[back]);
      const std::string before = back == 0 ? b.history[0] : b.history[back - 1];
      RC_ASSERT(events[i].changes == changes_between(before, b.history[back]));
    }
  }

 private:
  static void show(Plain& b, const std::string& text) {
    b.now = text;
    b.history.push_back(text);
  }
};

void step(Work& work, int what, int which, int value) {
  Plain& b = work.builds[static_cast<std::size_t>(which) % work.builds.size()];
  if (what < 8) {
    work.edit(b, 1000 + value % 5);
  } else if (what < 12) {
    work.undo(b);
  } else if (what < 15) {
    work.redo(b);
  } else if (what == 15) {
    work.duplicate(b);
  } else if (what == 16) {
    work.late_edit(b, value);
  } else if (what == 17) {
    work.reopen();
  } else {
    work.begin(1000 + value % 5);
  }
}

TEST(Model, AnyWorkGivesWhatAPlainListGives) {
  EXPECT_TRUE(rc::check([] {
    const auto steps = *rc::gen::container<std::vector<std::tuple<int, int, int>>>(rc::gen::tuple(
        rc::gen::inRange(0, 19), rc::gen::inRange(0, 100), rc::gen::inRange(0, 100)));
    Work work;
    work.begin(1400);
    for (const auto& [what, which, value] : steps) {
      step(work, what, which, value);
      for (const auto& b : work.builds) work.look(b);
    }
    for (const auto& b : work.builds) work.look_at_history(b);
  }));
}

TEST(Model, ChangesSurviveTheirText) {
  EXPECT_TRUE(rc::check([](const std::vector<std::array<std::string, 3>>& rows) {
    Changes changes;
    for (const auto& row : rows) changes.push_back({row[0], row[1], row[2]});
    RC_ASSERT(unpack(pack(changes)) == changes);
  }));
}

}  // namespace

}  // namespace ww::garage::shed
