#include "tests/end_to_end/program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <thread>

namespace halftool::test {

namespace fs = std::filesystem;

std::string text_of(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

void Program::SetUp() {
  fs::create_directory(work());
}

void Program::write(const std::string& name, const std::string& text) const {
  std::ofstream(work() / name) << text;
}

pid_t Program::start(const std::vector<std::string>& arguments) const {
  std::vector<std::string> words = {HALFTOOL_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  const std::string folder = work(), out = place_ / "out", err = place_ / "err";
  fs::remove(err);  // what the last run said is not mistaken for what this one says
  const pid_t process = fork();
  if (process != 0) return process;
  const int flags = O_CREAT | O_TRUNC | O_WRONLY;
  if (chdir(folder.c_str()) != 0 || dup2(open(out.c_str(), flags, 0600), STDOUT_FILENO) < 0 ||
      dup2(open(err.c_str(), flags, 0600), STDERR_FILENO) < 0)
    _exit(126);
  execv(pointers.front(), pointers.data());
  _exit(127);
}

Answer Program::answer_of(pid_t process) const {
  int status = 0;
  if (waitpid(process, &status, 0) != process) return {};
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, text_of(place_ / "out"), text_of(place_ / "err")};
}

Answer Program::run(const std::vector<std::string>& arguments) const {
  return answer_of(start(arguments));
}

Answer Program::interrupt_at(const std::string& text, const std::vector<std::string>& arguments) const {
  const pid_t process = start(arguments);
  const auto still_runs = [&] {
    siginfo_t state{};
    waitid(P_PID, static_cast<id_t>(process), &state, WEXITED | WNOHANG | WNOWAIT);
    return state.si_pid == 0;
  };
  while (still_runs() && text_of(place_ / "err").find(text) == std::string::npos)
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  kill(process, SIGINT);
  return answer_of(process);
}

}  // namespace halftool::test
