// SPDX-License-Identifier: MIT
#include "tests/garage/faulty_disk.h"

#include <cstring>

namespace ww::garage::shed {

namespace {

/// Our file, with the usual layer's behind it in the same block of memory.
struct File {
  sqlite3_file base;
  sqlite3_file* real;
};

sqlite3_file* real(sqlite3_file* file) {
  return reinterpret_cast<File*>(file)->real;
}

sqlite3_vfs* usual() {
  static sqlite3_vfs* const vfs = sqlite3_vfs_find(nullptr);
  return vfs;
}

int write(sqlite3_file* f, const void* bytes, int count, sqlite3_int64 at) {
  const int code = FaultyDisk::get().due();
  return code != SQLITE_OK ? code : real(f)->pMethods->xWrite(real(f), bytes, count, at);
}

int truncate(sqlite3_file* f, sqlite3_int64 size) {
  const int code = FaultyDisk::get().due();
  return code != SQLITE_OK ? code : real(f)->pMethods->xTruncate(real(f), size);
}

int sync(sqlite3_file* f, int flags) {
  FaultyDisk::get().count_sync();
  const int code = FaultyDisk::get().due();
  return code != SQLITE_OK ? code : real(f)->pMethods->xSync(real(f), flags);
}

const sqlite3_io_methods& methods() {
  static const sqlite3_io_methods all{
      3,
      [](sqlite3_file* f) { return real(f)->pMethods->xClose(real(f)); },
      [](sqlite3_file* f, void* to, int n, sqlite3_int64 at) {
        return real(f)->pMethods->xRead(real(f), to, n, at);
      },
      write,
      truncate,
      sync,
      [](sqlite3_file* f, sqlite3_int64* size) {
        return real(f)->pMethods->xFileSize(real(f), size);
      },
      [](sqlite3_file* f, int lock) { return real(f)->pMethods->xLock(real(f), lock); },
      [](sqlite3_file* f, int lock) { return real(f)->pMethods->xUnlock(real(f), lock); },
      [](sqlite3_file* f, int* out) { return real(f)->pMethods->xCheckReservedLock(real(f), out); },
      [](sqlite3_file* f, int op, void* arg) {
        return real(f)->pMethods->xFileControl(real(f), op, arg);
      },
      [](sqlite3_file* f) { return real(f)->pMethods->xSectorSize(real(f)); },
      [](sqlite3_file* f) { return real(f)->pMethods->xDeviceCharacteristics(real(f)); },
      [](sqlite3_file* f, int page, int size, int extend, void volatile** out) {
        return real(f)->pMethods->xShmMap(real(f), page, size, extend, out);
      },
      [](sqlite3_file* f, int offset, int n, int flags) {
        return real(f)->pMethods->xShmLock(real(f), offset, n, flags);
      },
      [](sqlite3_file* f) { real(f)->pMethods->xShmBarrier(real(f)); },
      [](sqlite3_file* f, int remove) { return real(f)->pMethods->xShmUnmap(real(f), remove); },
      [](sqlite3_file* f, sqlite3_int64 at, int n, void** out) {
        return real(f)->pMethods->xFetch(real(f), at, n, out);
      },
      [](sqlite3_file* f, sqlite3_int64 at, void* page) {
        return real(f)->pMethods->xUnfetch(real(f), at, page);
      }};
  return all;
}

int open(sqlite3_vfs*, const char* path, sqlite3_file* file, int flags, int* out) {
  auto* ours = reinterpret_cast<File*>(file);
  ours->base.pMethods = nullptr;
  ours->real = reinterpret_cast<sqlite3_file*>(ours + 1);
  std::memset(ours->real, 0, static_cast<std::size_t>(usual()->szOsFile));
  const int code = usual()->xOpen(usual(), path, ours->real, flags, out);
  if (ours->real->pMethods != nullptr) ours->base.pMethods = &methods();
  return code;
}

}  // namespace

FaultyDisk& FaultyDisk::get() {
  static FaultyDisk disk;
  static sqlite3_vfs vfs = [] {
    sqlite3_vfs made = *usual();
    made.zName = name;
    made.pNext = nullptr;
    made.szOsFile = static_cast<int>(sizeof(File)) + usual()->szOsFile;
    made.xOpen = open;
    return made;
  }();
  static const int registered = sqlite3_vfs_register(&vfs, 0);
  (void)registered;
  return disk;
}

}  // namespace ww::garage::shed
