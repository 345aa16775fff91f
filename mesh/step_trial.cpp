#include "mesh/step_trial.hpp"

#include <fcntl.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <sstream>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {
namespace {

constexpr double least_seconds = 20;         // of processor time
constexpr double seconds_per_megabyte = 30;  // a good file takes below one

rlim_t seconds_for(const std::string& path) {
  std::error_code ignored;
  const auto size = std::filesystem::file_size(path, ignored);
  const double megabytes = ignored ? 0 : static_cast<double>(size) / 1e6;
  return static_cast<rlim_t>(least_seconds + seconds_per_megabyte * megabytes);
}

/// The child: leaves by _exit, for what the parent opened is not its to close.
[[noreturn]] void try_in_child(const std::string& path, const std::function<void()>& import, int answer) {
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  for (const int number : {SIGINT, SIGTERM, SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT})
    std::signal(number, SIG_DFL);
  const rlimit no_core{0, 0};
  setrlimit(RLIMIT_CORE, &no_core);
  const rlim_t seconds = seconds_for(path);
  const rlimit time{seconds, seconds + 5};
  setrlimit(RLIMIT_CPU, &time);
  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  for (const int stream : {STDOUT_FILENO, STDERR_FILENO}) dup2(nowhere, stream);
  try {
    const StepLook look = look_at_step(path);
    std::ostringstream text;
    text << look.n_solids << ' ' << look.n_surfaces << ' ' << look.damage;
    const std::string words = text.str();
    const ssize_t written = write(answer, words.data(), words.size());
    if (look.damage.empty()) import();
    _exit(written < 0 ? 1 : 0);
  } catch (...) {  // met again by the parent, which says it in words
  }
  _exit(0);
}

std::string read_all(int from) {
  std::string text;
  std::array<char, 4096> part{};
  for (;;) {
    const ssize_t n = read(from, part.data(), part.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return text;
    text.append(part.data(), static_cast<std::size_t>(n));
  }
}

int wait_for(pid_t child) {
  int status = 0;
  while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  return status;
}

void refuse_end_by_signal(const std::string& name, int number) {
  if (number == SIGINT || number == SIGTERM) throw MeshError("reading " + name + " was stopped");
  std::ostringstream text;
  if (number == SIGXCPU)
    text << name << " keeps the STEP reader busy without end";
  else
    text << name << " breaks the STEP reader (" << strsignal(number) << ")";
  text << ", for it is damaged or holds a shape that is none; " << step_mend;
  throw MeshError(text.str());
}

}  // namespace

StepLook try_step_file(const std::string& path, const std::function<void()>& import) {
  std::array<int, 2> ends{};
  if (pipe2(ends.data(), O_CLOEXEC) != 0) return {};  // no trial is no fault of the file
  const pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    try_in_child(path, import, ends[1]);
  }
  close(ends[1]);
  std::istringstream answer(child < 0 ? std::string() : read_all(ends[0]));
  close(ends[0]);
  if (child < 0) return {};
  const int status = wait_for(child);
  const std::string name = "'" + std::filesystem::path(path).filename().string() + "'";
  StepLook look;
  answer >> look.n_solids >> look.n_surfaces >> std::ws;
  std::getline(answer, look.damage);
  if (!look.damage.empty()) throw MeshError(name + " is damaged at " + look.damage + "; " + step_mend);
  if (WIFSIGNALED(status)) refuse_end_by_signal(name, WTERMSIG(status));
  return look;
}

}  // namespace halftool::mesh
