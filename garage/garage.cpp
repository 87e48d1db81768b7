// SPDX-License-Identifier: MIT
#include "garage/garage.h"

#include "garage/impl.h"
#include "garage/opening.h"
#include "garage/schema.h"

namespace ww::garage {

namespace {

namespace fs = std::filesystem;

bool is_garage(const std::string& path) {
  constexpr std::size_t at = 68;  // of the application id in SQLite's heading
  const std::string head = first_bytes(path, at + 4);
  if (head.size() < at + 4 || head.compare(0, 15, "SQLite format 3") != 0) return false;
  std::int64_t application = 0;
  for (std::size_t i = at; i < at + 4; ++i)
    application = application * 256 + static_cast<unsigned char>(head[i]);
  return application == application_id;
}

Result<void> check_target(const std::string& own, const std::string& path) {
  const fs::path target = fs_path(path);
  if (!fs::is_directory(fs::absolute(target).parent_path())) {
    return fail({.code = "no-folder",
                 .what = "the folder for the backup is not there",
                 .file = path,
                 .way_out = "Put the stick in, or name another folder"});
  }
  if (!fs::exists(target)) return {};
  if (fs::equivalent(fs_path(own), target)) {
    return fail({.code = "same-file",
                 .what = "this is the garage's own file, no place for its backup",
                 .file = path,
                 .way_out = "Name another file, on another disk if there is one"});
  }
  if (fs::is_directory(target) || (fs::file_size(target) > 0 && !is_garage(path))) {
    return fail({.code = "not-a-garage",
                 .what = "something else lies at that place; it was not touched",
                 .file = path,
                 .way_out = "Name another file"});
  }
  for (const char* companion : {"-wal", "-journal"}) {
    if (!fs::exists(fs_path(path + companion))) continue;
    return fail({.code = "backup-in-use",
                 .what = "the garage at that place is in use; it was not touched",
                 .file = path,
                 .way_out = "Name another file"});
  }
  return {};
}

}  // namespace

Garage::Garage(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Garage::Garage(Garage&&) noexcept = default;
Garage& Garage::operator=(Garage&&) noexcept = default;
Garage::~Garage() = default;

Result<Garage> Garage::open(const std::string& path, Clock clock, const Options& options) {
  return guarded(path, [&]() -> Result<Garage> {
    auto impl = std::make_unique<Impl>();
    impl->path = path;
    impl->clock = std::move(clock);
    impl->options = options;
    const Place place{path, options, impl->clock()};
    auto opening = put_in_order(place);
    if (!opening) return fail(opening.error());
    impl->opening = std::move(*opening);
    impl->db = connect(place);
    return Garage(std::move(impl));
  });
}

const Opening& Garage::opening() const {
  return impl_->opening;
}

const std::string& Garage::path() const {
  return impl_->path;
}

Result<void> Garage::backup(const std::string& path) const {
  return guarded(path, [&]() -> Result<void> {
    if (auto good = check_target(impl_->path, path); !good) return fail(good.error());
    copy_file({impl_->path, impl_->options, {}}, path);
    return {};
  });
}

}  // namespace ww::garage
