#include "tests/end_to_end/vtk_files.hpp"

#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>
#include <vtkXMLDataElement.h>
#include <vtkXMLUnstructuredGridReader.h>
#include <vtkXMLUtilities.h>

#include <stdexcept>

namespace halftool::test {

namespace fs = std::filesystem;

vtkSmartPointer<vtkUnstructuredGrid> read_grid(const fs::path& file) {
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName(file.c_str());
  reader->Update();
  return reader->GetOutput();
}

Range cell_range(vtkUnstructuredGrid& grid, const std::string& field) {
  vtkDataArray* values = grid.GetCellData()->GetArray(field.c_str());
  if (!values) throw std::runtime_error("no cell field " + field);
  double range[2];
  values->GetFiniteRange(range);
  return {range[0], range[1]};
}

std::vector<fs::path> series_files(const fs::path& pvd) {
  const auto root =
      vtkSmartPointer<vtkXMLDataElement>::Take(vtkXMLUtilities::ReadElementFromFile(pvd.c_str()));
  vtkXMLDataElement* list = root ? root->FindNestedElementWithName("Collection") : nullptr;
  if (!list) throw std::runtime_error(pvd.string() + " holds no collection");
  std::vector<fs::path> files;
  for (int i = 0; i < list->GetNumberOfNestedElements(); ++i)
    files.push_back(pvd.parent_path() / list->GetNestedElement(i)->GetAttribute("file"));
  return files;
}

double drawn_share(const fs::path& png) {
  vtkNew<vtkPNGReader> reader;
  reader->SetFileName(png.c_str());
  reader->Update();
  vtkImageData* image = reader->GetOutput();
  const int* size = image->GetDimensions();
  const int colours = image->GetNumberOfScalarComponents();
  long drawn = 0;
  for (int y = 0; y < size[1]; ++y)
    for (int x = 0; x < size[0]; ++x)
      for (int c = 0; c < colours; ++c)
        if (image->GetScalarComponentAsDouble(x, y, 0, c) !=
            image->GetScalarComponentAsDouble(0, size[1] - 1, 0, c)) {
          ++drawn;
          break;
        }
  return static_cast<double>(drawn) / (static_cast<double>(size[0]) * size[1]);
}

}  // namespace halftool::test
