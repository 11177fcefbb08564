/** Formats by their names, with the ending of their files. */
export const exportEndings = {
  gpx: '.gpx',
  kml: '.kml',
  csv: '.csv',
  dxf: '.dxf',
  gpkg: '.gpkg',
  'shp.zip': '.zip',
  geojson: '.geojson',
  tif: '.tif',
} as const;

export type ExportFormat = keyof typeof exportEndings;

export const exportFormats = Object.keys(exportEndings) as ExportFormat[];
