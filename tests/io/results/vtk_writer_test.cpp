#include "io/results/vtk_writer.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <vtkCell.h>
#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <cmath>
#include <fstream>

#include "io/results/nodal_average.hpp"
#include "io/results/results.hpp"
#include "io/results/series_writer.hpp"
#include "tests/io/results/bent_strip.hpp"
#include "tests/io/results/result_folder.hpp"

namespace halftool::io {
namespace {

vtkSmartPointer<vtkUnstructuredGrid> read_back(const std::filesystem::path& path) {
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  return reader->GetOutput();
}

double largest_difference(vtkDataArray* array, const Eigen::MatrixXd& expected) {
  double largest = 0;
  for (Eigen::Index i = 0; i < expected.rows(); ++i)
    for (Eigen::Index j = 0; j < expected.cols(); ++j) {
      const double found = array->GetComponent(i, static_cast<int>(j));
      if (std::isnan(found) && std::isnan(expected(i, j))) continue;
      const double difference = std::abs(found - expected(i, j));
      largest = std::isnan(difference) ? 1e300 : std::max(largest, difference);
    }
  return largest;
}

class VtkWriter : public test::ResultFolder {
 protected:
  test::BentStrip strip_ = test::make_bent_strip(20, 6);
};

TEST_F(VtkWriter, EveryFieldComesBackExactly) {
  write_sheet(folder_ / "formed.vtu", strip_.formed);
  const auto grid = read_back(folder_ / "formed.vtu");
  ASSERT_EQ(grid->GetNumberOfPoints(), strip_.formed.positions.rows());
  ASSERT_EQ(grid->GetNumberOfCells(), strip_.formed.triangles.rows());
  EXPECT_EQ(grid->GetCellData()->GetNumberOfArrays(), static_cast<int>(sheet_fields().size()));
  for (const SheetField& field : sheet_fields()) {
    const Eigen::VectorXd values = field.of(strip_.formed);
    vtkDataArray* cells = grid->GetCellData()->GetArray(field.name.c_str());
    vtkDataArray* nodes = grid->GetPointData()->GetArray(field.name.c_str());
    ASSERT_NE(cells, nullptr) << field.name;
    EXPECT_EQ(largest_difference(cells, values), 0) << field.name;
    ASSERT_EQ(nodes != nullptr, field.smooth) << field.name;
    if (!field.smooth) continue;
    EXPECT_EQ(
        largest_difference(nodes, nodal_average(strip_.formed.triangles, strip_.formed.positions, values)), 0)
        << field.name;
  }
  EXPECT_EQ(
      largest_difference(grid->GetPointData()->GetArray("displacement [mm]"), strip_.formed.displacement), 0);
  EXPECT_EQ(largest_difference(grid->GetPoints()->GetData(), strip_.formed.positions), 0);
  EXPECT_EQ(grid->GetFieldData()->GetArray("pressure [MPa]")->GetComponent(0, 0), 100);
}

TEST_F(VtkWriter, TrianglesKeepTheirCorners) {
  write_surface(folder_ / "tool.vtu", strip_.tool);
  const auto grid = read_back(folder_ / "tool.vtu");
  ASSERT_EQ(grid->GetNumberOfCells(), strip_.tool.triangles.rows());
  for (Eigen::Index t = 0; t < strip_.tool.triangles.rows(); ++t)
    for (int i = 0; i < 3; ++i) EXPECT_EQ(grid->GetCell(t)->GetPointId(i), strip_.tool.triangles(t, i));
}

TEST_F(VtkWriter, FilesAreCompressedAndAppended) {
  write_sheet(folder_ / "formed.vtu", strip_.formed);
  std::ifstream in(folder_ / "formed.vtu", std::ios::binary);
  std::string text(20000, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  EXPECT_THAT(text, testing::HasSubstr("vtkLZ4DataCompressor"));
  EXPECT_THAT(text, testing::HasSubstr("<AppendedData encoding=\"raw\""));
}

TEST_F(VtkWriter, UnwritablePathIsNamedAndLeavesNothing) {
  const auto path = folder_ / "missing" / "formed.vtu";
  try {
    write_sheet(path, strip_.formed);
    FAIL() << "no error";
  } catch (const WriteError& error) {
    EXPECT_THAT(error.what(), testing::HasSubstr(path.string()));
  }
  EXPECT_TRUE(std::filesystem::is_empty(folder_));
}

TEST_F(VtkWriter, ResultsHoldTheSpringbackOfEachNode) {
  ResultInput input;
  input.formed = &strip_.formed;
  input.released = &strip_.released;
  input.tool = &strip_.tool;
  EXPECT_THAT(write_results(folder_ / "new", input),
              testing::ElementsAre("formed.vtu", "released.vtu", "tool.vtu"));
  const auto grid = read_back(folder_ / "new" / "released.vtu");
  vtkDataArray* springback = grid->GetPointData()->GetArray("springback [mm]");
  ASSERT_NE(springback, nullptr);
  EXPECT_EQ(largest_difference(springback, strip_.released.positions - strip_.formed.positions), 0);
  EXPECT_FALSE(std::filesystem::exists(folder_ / "new" / "summary.json"));
}

TEST_F(VtkWriter, SeriesIsReadableAfterEachState) {
  SeriesWriter series(folder_, "series");
  for (int step = 1; step <= 3; ++step) {
    strip_.formed.pressure = 10 * step;
    series.add(step, strip_.formed);
    std::ifstream in(folder_ / "series.pvd");
    const std::string index{std::istreambuf_iterator<char>(in), {}};
    EXPECT_THAT(index, testing::HasSubstr("timestep=\"" + std::to_string(step) + "\""));
    EXPECT_THAT(index, testing::HasSubstr("file=\"series/step_000" + std::to_string(step) + ".vtu\""));
    EXPECT_THAT(index, testing::EndsWith("</VTKFile>\n"));
  }
  const auto grid = read_back(folder_ / "series" / "step_0002.vtu");
  EXPECT_EQ(grid->GetFieldData()->GetArray("pressure [MPa]")->GetComponent(0, 0), 20);
  const double error =
      largest_difference(grid->GetCellData()->GetArray("thickness [mm]"), strip_.formed.thickness);
  EXPECT_LT(error, 1.6e-7);  // half a unit in the last place of a float at 1.6
}

TEST(NodalAverage, WeighsByAreaAndSkipsNan) {
  mesh::Points points(4, 3);
  points << 0, 0, 0, 2, 0, 0, 0, 2, 0, -1, 0, 0;
  mesh::Triangles triangles(2, 3);
  triangles << 0, 1, 2, 0, 2, 3;
  const Eigen::VectorXd mean = nodal_average(triangles, points, Eigen::Vector2d(3, 6));
  EXPECT_DOUBLE_EQ(mean(0), (2 * 3 + 1 * 6) / 3.0);
  EXPECT_DOUBLE_EQ(mean(1), 3);
  EXPECT_DOUBLE_EQ(mean(3), 6);
  const Eigen::VectorXd holed = nodal_average(triangles, points, Eigen::Vector2d(3, NAN));
  EXPECT_DOUBLE_EQ(holed(0), 3);
  EXPECT_TRUE(std::isnan(holed(3)));
}

}  // namespace
}  // namespace halftool::io
