// SPDX-License-Identifier: MIT
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "cli/steps_report.h"

namespace ww::cli {

namespace {

/// A text as TOML takes it.
std::string quoted(std::string_view text) {
  build::Build only;
  only.project.name = std::string(text);
  // The sheet's own writer knows how.
  const std::string sheet = build::write_sheet(only, build::Library{});
  const auto at = sheet.find("name = ");
  const auto end = sheet.find('\n', at);
  return text.empty() ? "\"\"" : sheet.substr(at + 7, end - at - 7);
}

std::string line(std::string_view key, std::string_view value) {
  return value.empty() ? std::string() : std::string(key) + " = " + quoted(value) + "\n";
}

tl::unexpected<Error> cannot(const std::string& path, const char* what) {
  return fail({.code = "cannot-write",
               .what = what,
               .file = path,
               .found = std::strerror(errno),
               .way_out = "Nothing was changed"});
}

/// Writes all of it, to the disk, in a new file.
bool write_whole(const std::string& path, const std::string& bytes, mode_t mode) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
  if (file < 0) return false;
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t n = ::write(file, bytes.data() + done, bytes.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) break;
    done += static_cast<std::size_t>(n);
  }
  const bool good = done == bytes.size() && ::fsync(file) == 0;
  return ::close(file) == 0 && good;
}

}  // namespace

std::string log_text(const build::LogEntry& entry) {
  return "\n[[done]]\n" + line("step", entry.step) + line("reading", entry.reading) +
         line("instrument", entry.instrument) + line("date", entry.date) +
         line("photo", entry.photo) + line("note", entry.note);
}

std::string wire_text(const build::OwnWire& wire, const std::string& length,
                      const std::string& section, const std::string& torque) {
  return "\n[[wire]]\n" + line("label", wire.label) + "laid = \"yes\"\n" +
         line("colour", wire.colour) + line("route", wire.route) + line("length", length) +
         line("section", section) + line("torque", torque) + line("lug_from", wire.lug_from) +
         line("lug_to", wire.lug_to) + line("date", wire.date) + line("photo", wire.photo) +
         line("note", wire.note);
}

Result<int> append_to_sheet(const std::string& path, const std::string& text,
                            const build::Library& library) {
  std::error_code problem;
  const auto real = std::filesystem::canonical(path, problem);
  if (problem || !std::filesystem::is_regular_file(real))
    return fail({.code = "no-file",
                 .what = "the log goes into a sheet of your own",
                 .file = path,
                 .expected = "a file; `wattwright new commuter > my.toml` makes one of a demo"});
  std::ifstream in(real, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  if (!in) return cannot(path, "the sheet cannot be read");
  if (!bytes.empty() && bytes.back() != '\n') bytes += '\n';
  bytes += text;
  // Read before it takes the old one's place: an entry that the sheet refuses is not kept.
  const auto sheet = build::read_sheet({path, bytes}, library);
  if (!sheet.errors.empty()) return fail(sheet.errors.front());
  struct stat now {};
  if (::stat(real.c_str(), &now) != 0) return cannot(path, "the sheet cannot be read");
  const std::string beside = real.string() + ".new-" + std::to_string(::getpid());
  if (!write_whole(beside, bytes, now.st_mode & 0777U) ||
      ::rename(beside.c_str(), real.c_str()) != 0) {
    const int why = errno;
    ::unlink(beside.c_str());
    errno = why;
    return cannot(path, "the sheet cannot be written");
  }
  return 0;
}

}  // namespace ww::cli
