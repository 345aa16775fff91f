#include "tests/io/figures/read_png.hpp"

#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>

namespace halftool::io::test {

Image read_png(const std::filesystem::path& path) {
  vtkNew<vtkPNGReader> reader;
  if (!std::filesystem::exists(path) || reader->CanReadFile(path.c_str()) == 0) return {};
  reader->SetFileName(path.c_str());
  reader->Update();
  vtkImageData* data = reader->GetOutput();
  int size[3];
  data->GetDimensions(size);
  Image image{size[0], size[1], {}};
  for (int y = size[1] - 1; y >= 0; --y)
    for (int x = 0; x < size[0]; ++x)
      for (int c = 0; c < 3; ++c)
        image.rgb.push_back(static_cast<std::uint8_t>(data->GetScalarComponentAsDouble(x, y, 0, c)));
  return image;
}

std::tuple<int, int, int> pixel(const Image& image, int x, int y) {
  const std::uint8_t* p = &image.rgb[3 * (static_cast<std::size_t>(y) * image.width + x)];
  return {p[0], p[1], p[2]};
}

std::set<std::tuple<int, int, int>> distinct_colours(const Image& image) {
  std::set<std::tuple<int, int, int>> colours;
  for (int y = 0; y < image.height; ++y)
    for (int x = 0; x < image.width; ++x) colours.insert(pixel(image, x, y));
  return colours;
}

}  // namespace halftool::io::test
