#pragma once
#include <string>

namespace halftool::io {

/// A place where pictures can be rendered: a private virtual X server (Xvfb) that lives as long as this
/// object, or, where none is installed, the display that is there already. A private server is preferred also
/// on a desktop, so that pictures come out alike everywhere. Sets DISPLAY while it lives; make one in the
/// main thread.
class Display {
 public:
  Display();
  ~Display();
  Display(const Display&) = delete;
  Display& operator=(const Display&) = delete;

  [[nodiscard]] bool available() const { return available_; }
  /// Empty, or one line: why there are no rendered pictures and what to install.
  [[nodiscard]] const std::string& reason() const { return reason_; }

 private:
  bool start_server(const std::string& program);
  void stop_server();

  bool available_ = false;
  std::string reason_;
  int server_ = -1;  ///< process id
  bool had_display_ = false;
  std::string old_display_;
};

}  // namespace halftool::io
