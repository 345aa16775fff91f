#pragma once
#include <filesystem>
#include <string>

#include "io/results/write_file.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// Writes states one after another as NAME/step_0001.vtu, ... and after each the index NAME.pvd, so that a
/// run that is killed leaves a series that opens. Fields are stored in single precision.
class SeriesWriter {
 public:
  /// @param folder  the result folder; NAME is made inside it
  /// @param name    of the index and of the folder of the steps
  /// @throws WriteError
  SeriesWriter(std::filesystem::path folder, std::string name);

  /// Adds one state. `time` orders the series: pressing counts increments, so the series plays evenly; the
  /// pressure of each state stands in its field data.
  /// @throws WriteError
  void add(double time, const solver::SheetFields& fields);

  [[nodiscard]] int count() const { return count_; }

  /// Of what was added; the files stay where they are.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(entries_, count_);
  }

 private:
  void write_index() const;

  std::filesystem::path folder_;
  std::string name_;
  std::string entries_;
  int count_ = 0;
};

}  // namespace halftool::io
