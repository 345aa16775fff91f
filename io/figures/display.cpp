#include "io/figures/display.hpp"

#include <X11/Xlib.h>
#include <fcntl.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <sstream>

namespace halftool::io {
namespace {

/// Full path of a program on PATH; empty if there is none.
std::string find_program(const std::string& name) {
  const char* path = std::getenv("PATH");
  std::istringstream folders(path != nullptr ? path : "");
  for (std::string folder; std::getline(folders, folder, ':');) {
    std::string candidate = (std::filesystem::path(folder) / name).string();
    if (!folder.empty() && access(candidate.c_str(), X_OK) == 0) return candidate;
  }
  return "";
}

/// True if DISPLAY leads to a server that can do OpenGL. VTK would end the program otherwise.
bool display_answers() {
  ::Display* display = XOpenDisplay(nullptr);
  if (display == nullptr) return false;
  int opcode = 0, event = 0, error = 0;
  const bool has_gl = XQueryExtension(display, "GLX", &opcode, &event, &error) != 0;
  XCloseDisplay(display);
  return has_gl;
}

/// The display number that the server writes once it listens; empty after ten seconds or if the server ends.
std::string read_number(int pipe_end) {
  std::string number;
  pollfd wait{pipe_end, POLLIN, 0};
  while (poll(&wait, 1, 10000) > 0) {
    char c = 0;
    if (read(pipe_end, &c, 1) != 1) return "";
    if (c == '\n') return number;
    number += c;
  }
  return "";
}

/// In the child: become the server. Only calls that are safe between fork and exec.
[[noreturn]] void become_server(const char* program, int pipe_end, int parent) {
  prctl(PR_SET_PDEATHSIG, SIGTERM);  // do not outlive a program that is killed
  if (getppid() != parent) _exit(1);
  const int nowhere = open("/dev/null", O_RDWR);
  dup2(nowhere, STDIN_FILENO);
  dup2(nowhere, STDOUT_FILENO);
  dup2(nowhere, STDERR_FILENO);
  if (pipe_end == 3)
    fcntl(3, F_SETFD, 0);  // dup2 onto itself would leave it to be closed
  else
    dup2(pipe_end, 3);
  setsid();  // an interrupt from the terminal is for the program, which stops the server itself
  // Without -noreset the server starts anew when our test connection closes, and refuses VTK meanwhile.
  const std::array<const char*, 10> words = {program,        "-displayfd", "3",   "-screen",  "0",
                                             "1600x1200x24", "-nolisten",  "tcp", "-noreset", nullptr};
  execv(program, const_cast<char* const*>(words.data()));
  _exit(127);
}

}  // namespace

Display::Display() {
  if (const char* old = std::getenv("DISPLAY")) {
    had_display_ = true;
    old_display_ = old;
  }
  const std::string program = find_program("Xvfb");
  if (!program.empty() && start_server(program)) {
    available_ = true;
    return;
  }
  if (had_display_ && display_answers()) {
    available_ = true;
    return;
  }
  reason_ = program.empty()
                ? "Rendered pictures are left out: no display and no Xvfb; install the package xvfb."
                : "Rendered pictures are left out: Xvfb does not start with OpenGL; install the packages "
                  "xvfb and libgl1-mesa-dri.";
}

Display::~Display() {
  stop_server();
}

bool Display::start_server(const std::string& program) {
  int ends[2];
  if (pipe2(ends, O_CLOEXEC) != 0) return false;
  const int parent = getpid();
  server_ = fork();
  if (server_ == 0) become_server(program.c_str(), ends[1], parent);
  close(ends[1]);
  const std::string number = server_ > 0 ? read_number(ends[0]) : "";
  close(ends[0]);
  if (!number.empty()) {
    setenv("DISPLAY", (":" + number).c_str(), 1);
    if (display_answers()) return true;
  }
  stop_server();
  return false;
}

void Display::stop_server() {
  if (server_ > 0) {
    kill(server_, SIGTERM);
    waitpid(server_, nullptr, 0);
  }
  server_ = -1;
  if (had_display_)
    setenv("DISPLAY", old_display_.c_str(), 1);
  else
    unsetenv("DISPLAY");
}

}  // namespace halftool::io
