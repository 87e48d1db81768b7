// SPDX-License-Identifier: MIT
// The program killed in the middle of its work, two hundred times: everything it had acknowledged
// is there afterwards. (A killed process; what a power cut does only a disk can show.)
#include <csignal>
#include <random>

#include <sys/wait.h>
#include <unistd.h>

#include "tests/garage/shed.h"

namespace ww::garage::shed {

namespace {

/// What the child says for each acknowledged change, in one write that a pipe does not tear.
struct Said {
  std::int64_t revision;
  int value;  ///< of sheet(), 0: a photo of this id
};

[[noreturn]] void work_until_killed(const std::string& path, BuildId build, int pipe) {
  Garage garage = opened(path, {.busy_ms = 20000});
  Head head = got(garage.head(build));
  for (int i = 0;; ++i) {
    Said said{0, 1000 + i % 900};
    if (i % 11 == 10) {
      said = {number(got(garage.add_photo(build, {picture(30000)})).id), 0};
    } else {
      head = got(garage.revise(build, {head.revision, sheet(said.value), "x"})).now;
      said.revision = number(head.revision);
    }
    if (write(pipe, &said, sizeof said) != sizeof said) _exit(1);
  }
}

std::vector<Said> killed_after(const std::string& path, BuildId build, int microseconds) {
  int ends[2];
  EXPECT_EQ(pipe(ends), 0);
  const pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    work_until_killed(path, build, ends[1]);
  }
  close(ends[1]);
  std::vector<Said> heard;
  Said said{};
  // The first word says that work is under way.
  if (read(ends[0], &said, sizeof said) == sizeof said) heard.push_back(said);
  usleep(static_cast<useconds_t>(microseconds));
  kill(child, SIGKILL);
  while (read(ends[0], &said, sizeof said) == sizeof said) heard.push_back(said);
  close(ends[0]);
  int status = 0;
  waitpid(child, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status));
  return heard;
}

TEST(Kill, TwoHundredTimesAndNothingAcknowledgedIsLost) {
  std::mt19937 random(5);
  std::size_t changes = 0;
  for (int file = 0; file < 10; ++file) {
    const Folder folder(in_memory());
    BuildId build{};
    {
      Garage garage = opened(folder.file());
      build = got(garage.create({.name = "a", .text = sheet(1400)})).build;
    }
    for (int round = 0; round < 20; ++round) {
      const auto heard = killed_after(folder.file(), build, static_cast<int>(random() % 12000));
      ASSERT_FALSE(heard.empty());
      Garage garage = opened(folder.file());  // looks the whole file over
      EXPECT_EQ(garage.opening().how, Opening::How::as_left);
      for (const Said& said : heard) {
        if (said.value == 0) {
          EXPECT_TRUE(got(garage.photo(PhotoId{said.revision})).bytes == picture(30000));
        } else {
          EXPECT_EQ(got(garage.revision(RevisionId{said.revision})).text, sheet(said.value));
        }
      }
      changes += heard.size();
    }
  }
  EXPECT_GT(changes, 400U);
  RecordProperty("changes", static_cast<int>(changes));
}

}  // namespace

}  // namespace ww::garage::shed
