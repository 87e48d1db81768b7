// SPDX-License-Identifier: MIT
// A file layer for SQLite that hands everything on to the usual one until it is told to fail: from
// the Nth write on each write, truncation or sync gives an error, as a full, protected or broken
// disk would.
#pragma once

#include <sqlite3.h>

#include <atomic>

namespace ww::garage::shed {

class FaultyDisk {
 public:
  static constexpr const char* name = "ww-faulty";

  /// Registered once a process.
  static FaultyDisk& get();

  /// After `good_writes` more writes each gives `code`.
  void fail_after(long good_writes, int code) {
    code_ = code;
    left_ = good_writes;
  }
  void heal() { left_ = never; }
  long syncs() const { return syncs_; }
  void count_sync() { ++syncs_; }

  /// SQLITE_OK, or the error that is due.
  int due() {
    if (left_ == never) return SQLITE_OK;
    if (left_ > 0) {
      --left_;
      return SQLITE_OK;
    }
    return code_;
  }

 private:
  static constexpr long never = -1;
  std::atomic<long> left_{never}, syncs_{0};
  std::atomic<int> code_{SQLITE_OK};
};

}  // namespace ww::garage::shed
