#include "io/results/vtk_writer.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkCommand.h>
#include <vtkDoubleArray.h>
#include <vtkErrorCode.h>
#include <vtkExecutive.h>
#include <vtkFieldData.h>
#include <vtkFloatArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkSmartPointer.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <system_error>

#include "io/results/nodal_average.hpp"

namespace halftool::io {
namespace {

/// Keeps the first line of what VTK complains about instead of letting it print.
class ErrorCatcher : public vtkCommand {
 public:
  static ErrorCatcher* New() { return new ErrorCatcher; }
  void Execute(vtkObject*, unsigned long, void* text) override {
    if (message.empty() && text != nullptr) message = static_cast<const char*>(text);
  }
  std::string message;
};

/// (n, k) values as a VTK array of k components.
template <class Array, class Derived>
vtkSmartPointer<vtkDataArray> make_array(const std::string& name, const Eigen::MatrixBase<Derived>& values) {
  auto array = vtkSmartPointer<Array>::New();
  array->SetName(name.c_str());
  array->SetNumberOfComponents(static_cast<int>(values.cols()));
  array->SetNumberOfTuples(values.rows());
  using Value = typename Array::ValueType;
  for (Eigen::Index i = 0; i < values.rows(); ++i)
    for (Eigen::Index j = 0; j < values.cols(); ++j)
      array->SetTypedComponent(i, static_cast<int>(j), static_cast<Value>(values(i, j)));
  return array;
}

template <class Derived>
vtkSmartPointer<vtkDataArray> make_array(const std::string& name, const Eigen::MatrixBase<Derived>& values,
                                         Precision precision) {
  return precision == Precision::full ? make_array<vtkDoubleArray>(name, values)
                                      : make_array<vtkFloatArray>(name, values);
}

vtkSmartPointer<vtkUnstructuredGrid> make_grid(const mesh::Points& positions,
                                               const mesh::Triangles& triangles) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  points->SetNumberOfPoints(positions.rows());
  for (Eigen::Index n = 0; n < positions.rows(); ++n)
    points->SetPoint(n, positions(n, 0), positions(n, 1), positions(n, 2));
  vtkNew<vtkCellArray> cells;
  cells->AllocateExact(triangles.rows(), 3 * triangles.rows());
  for (Eigen::Index t = 0; t < triangles.rows(); ++t) {
    const vtkIdType corners[3] = {triangles(t, 0), triangles(t, 1), triangles(t, 2)};
    cells->InsertNextCell(3, corners);
  }
  auto grid = vtkSmartPointer<vtkUnstructuredGrid>::New();
  grid->SetPoints(points);
  grid->SetCells(VTK_TRIANGLE, cells);
  return grid;
}

/// First line of VTK's text without its preamble.
std::string plain_reason(vtkXMLUnstructuredGridWriter& writer, const std::string& message) {
  const unsigned long code = writer.GetErrorCode();
  if (code == vtkErrorCode::OutOfDiskSpaceError) return "the disk is full";
  if (code == vtkErrorCode::CannotOpenFileError) return "the file cannot be opened";
  if (code != vtkErrorCode::NoError) return vtkErrorCode::GetStringFromErrorCode(code);
  return message.empty() ? "unknown reason" : message.substr(0, message.find('\n'));
}

void write_grid(const std::filesystem::path& path, vtkUnstructuredGrid* grid) {
  const std::filesystem::path part = path.string() + ".part";
  vtkNew<ErrorCatcher> catcher;
  vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->AddObserver(vtkCommand::ErrorEvent, catcher);
  writer->GetExecutive()->AddObserver(vtkCommand::ErrorEvent, catcher);
  writer->SetFileName(part.c_str());
  writer->SetInputData(grid);
  writer->SetDataModeToAppended();
  writer->EncodeAppendedDataOff();
  writer->SetCompressorTypeToLZ4();
  const int written = writer->Write();
  std::error_code trouble;
  if (written == 0 || writer->GetErrorCode() != vtkErrorCode::NoError || !catcher->message.empty()) {
    std::filesystem::remove(part, trouble);
    throw WriteError(path, plain_reason(*writer, catcher->message));
  }
  std::filesystem::rename(part, path, trouble);
  if (trouble) throw WriteError(path, trouble.message());
}

}  // namespace

const std::vector<SheetField>& sheet_fields() {
  using Fields = solver::SheetFields;
  using Values = Eigen::VectorXd;
  static const std::vector<SheetField> table = {
      {"thickness [mm]", "thickness of the sheet", [](const Fields& f) -> Values { return f.thickness; }},
      {"thinning [-]", "(t0 - t)/t0; below zero the sheet is thicker",
       [](const Fields& f) -> Values { return f.thinning; }},
      {"major strain mid [-]", "larger principal true strain of the mid-surface",
       [](const Fields& f) -> Values { return f.strain_mid.col(0); }},
      {"minor strain mid [-]", "smaller principal true strain of the mid-surface",
       [](const Fields& f) -> Values { return f.strain_mid.col(1); }},
      {"major strain outer [-]", "larger principal true strain of the face under the pad",
       [](const Fields& f) -> Values { return f.strain_outer.col(0); }},
      {"minor strain outer [-]", "smaller principal true strain of the face under the pad",
       [](const Fields& f) -> Values { return f.strain_outer.col(1); }},
      {"major strain inner [-]", "larger principal true strain of the face on the tool",
       [](const Fields& f) -> Values { return f.strain_inner.col(0); }},
      {"minor strain inner [-]", "smaller principal true strain of the face on the tool",
       [](const Fields& f) -> Values { return f.strain_inner.col(1); }},
      {"plastic strain mid [-]", "equivalent plastic strain of the mid-surface",
       [](const Fields& f) -> Values { return f.plastic_mid; }},
      {"plastic strain outer [-]", "equivalent plastic strain of the face under the pad",
       [](const Fields& f) -> Values { return f.plastic_outer; }},
      {"plastic strain inner [-]", "equivalent plastic strain of the face on the tool",
       [](const Fields& f) -> Values { return f.plastic_inner; }},
      {"von Mises stress outer [MPa]", "von Mises stress of the face under the pad",
       [](const Fields& f) -> Values { return f.von_mises_outer; }},
      {"von Mises stress inner [MPa]", "von Mises stress of the face on the tool",
       [](const Fields& f) -> Values { return f.von_mises_inner; }},
      {"fluid pressure [MPa]",
       "pressure that the diaphragm brings to the sheet; less than the fluid's in hollows tighter "
       "than diaphragm.smallest_radius",
       [](const Fields& f) -> Values { return f.fluid_pressure; }},
      {"contact pressure [MPa]", "pressure between sheet and tool, mean over the triangle",
       [](const Fields& f) -> Values { return f.contact_pressure; }},
      {"gap [mm]", "distance of the sheet's lower face from the tool; NaN where the tool is far",
       [](const Fields& f) -> Values { return f.gap; }},
      {"limit share [-]",
       "major strain over the forming limit along the same strain path; 1 lies on the limit",
       [](const Fields& f) -> Values { return f.limit_share; }},
      {"path limit share [-]",
       "share of the forming limit along the path that the strain took, largest of all states",
       [](const Fields& f) -> Values { return f.path_share; }},
      {"wrinkling tendency [-]",
       "share of the in-plane stress that compresses on a straight path to the strain reached; a tendency, "
       "no "
       "limit",
       [](const Fields& f) -> Values { return f.wrinkling; }},
      {"major stress mid [MPa]", "larger principal stress of the mid-surface less the stress across it",
       [](const Fields& f) -> Values { return f.stress_mid.col(0); }},
      {"minor stress mid [MPa]", "the smaller one; below zero the sheet can buckle",
       [](const Fields& f) -> Values { return f.stress_mid.col(1); }},
      {"share outer [-]",
       "largest share of the limits that are judged on the face under the pad, or the wrinkling tendency "
       "where that "
       "is larger",
       [](const Fields& f) -> Values { return f.face_share.col(0); }},
      {"share inner [-]", "the same on the face on the tool",
       [](const Fields& f) -> Values { return f.face_share.col(1); }},
      {"kind outer [-]",
       "what that is the share of: 0 nothing, 1 splitting, 2 thinning, 3 edge, 4 bend, 5 wrinkling (a "
       "tendency)",
       [](const Fields& f) -> Values { return f.face_kind.col(0); }, false},
      {"kind inner [-]", "the same on the face on the tool",
       [](const Fields& f) -> Values { return f.face_kind.col(1); }, false},
      {"edge limit share [-]",
       "strain along a cut edge over its limit, on the triangles of the edges; NaN elsewhere",
       [](const Fields& f) -> Values { return f.edge_share; }},
  };
  return table;
}

std::string sheet_fields_markdown() {
  std::string text = "| field | meaning |\n|---|---|\n";
  for (const SheetField& field : sheet_fields()) text += "| `" + field.name + "` | " + field.meaning + " |\n";
  return text + "| `displacement [mm]` | way of each node from the flat blank (point data only) |\n";
}

void write_sheet(const std::filesystem::path& path, const solver::SheetFields& fields,
                 const std::vector<NodeVectors>& extra, Precision precision) {
  const mesh::Triangles& triangles = fields.triangles;
  const auto grid = make_grid(fields.positions, triangles);
  grid->GetPointData()->AddArray(make_array("displacement [mm]", fields.displacement, precision));
  for (const NodeVectors& vectors : extra)
    grid->GetPointData()->AddArray(make_array(vectors.name, vectors.values, precision));
  for (const SheetField& field : sheet_fields()) {
    const Eigen::VectorXd values = field.of(fields);
    if (values.size() != triangles.rows()) continue;  // a state that does not carry this field
    grid->GetCellData()->AddArray(make_array(field.name, values, precision));
    if (!field.smooth) continue;
    const Eigen::VectorXd smooth = nodal_average(triangles, fields.positions, values);
    grid->GetPointData()->AddArray(make_array(field.name, smooth, precision));
  }
  const Eigen::Matrix<double, 1, 1> pressure(fields.pressure);
  grid->GetFieldData()->AddArray(make_array<vtkDoubleArray>("pressure [MPa]", pressure));
  write_grid(path, grid);
}

void write_surface(const std::filesystem::path& path, const mesh::SurfaceMesh& surface) {
  write_grid(path, make_grid(surface.nodes, surface.triangles));
}

}  // namespace halftool::io
