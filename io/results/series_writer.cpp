#include "io/results/series_writer.hpp"

#include <fmt/format.h>

#include <utility>

#include "io/results/vtk_writer.hpp"

namespace halftool::io {

SeriesWriter::SeriesWriter(std::filesystem::path folder, std::string name)
    : folder_(std::move(folder)), name_(std::move(name)) {
  std::error_code trouble;
  std::filesystem::create_directories(folder_ / name_, trouble);
  if (trouble) throw WriteError(folder_ / name_, trouble.message());
}

void SeriesWriter::add(double time, const solver::SheetFields& fields) {
  const std::string file = fmt::format("{}/step_{:04}.vtu", name_, count_ + 1);
  write_sheet(folder_ / file, fields, {}, Precision::single);
  ++count_;
  entries_ += fmt::format("    <DataSet timestep=\"{:.9g}\" part=\"0\" file=\"{}\"/>\n", time, file);
  write_index();
}

void SeriesWriter::write_index() const {
  write_file(folder_ / (name_ + ".pvd"),
             "<?xml version=\"1.0\"?>\n"
             "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n  <Collection>\n" +
                 entries_ + "  </Collection>\n</VTKFile>\n");
}

}  // namespace halftool::io
