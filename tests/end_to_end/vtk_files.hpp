#pragma once
#include <vtkSmartPointer.h>
#include <vtkUnstructuredGrid.h>

#include <filesystem>
#include <string>
#include <vector>

namespace halftool::test {

vtkSmartPointer<vtkUnstructuredGrid> read_grid(const std::filesystem::path& file);

/// Smallest and largest value of a cell field.
struct Range {
  double least = 0;
  double most = 0;
};
/// @throws std::runtime_error  no such field
Range cell_range(vtkUnstructuredGrid& grid, const std::string& field);

/// The files that a .pvd names, in their order.
std::vector<std::filesystem::path> series_files(const std::filesystem::path& pvd);

/// Share of the pixels of a PNG picture that differ from its top left one; 0: an empty picture.
double drawn_share(const std::filesystem::path& png);

}  // namespace halftool::test
