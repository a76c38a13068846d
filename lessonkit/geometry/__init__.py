"""Pure geometry: numbers in, plain values out. The only home of shapely. Millimetres, degrees, y upwards."""
