using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;

namespace Undersand.Workbench.Pictures;

/// <summary>The base maps that were named, lowest first; one that can't be used is a sentence, and the workbench opens without it.</summary>
internal sealed class BaseMaps : IDisposable
{
    private readonly List<BaseMap> _all = [];
    private readonly List<string> _refused = [];

    public BaseMaps(IReadOnlyList<string> files, int epsg)
    {
        foreach (string file in files)
            try
            {
                _all.AddRange(Open(file, epsg));
            }
            catch (SurveyException fault)
            {
                _refused.Add(fault.Message);
            }
    }

    /// <summary>Another at each start, so that no browser shows yesterday's picture of a file that was changed.</summary>
    public string Version { get; } = Guid.NewGuid().ToString("N")[..8];

    public IReadOnlyList<BaseMap> All => _all;

    public IReadOnlyList<string> Refused => _refused;

    /// <inheritdoc/>
    public void Dispose() => _all.OfType<BaseMap.Tiff>().ToList().ForEach(t => t.File.Dispose());

    private static IEnumerable<BaseMap> Open(string path, int epsg)
    {
        string name = Path.GetFileName(path);
        switch (Kind(path))
        {
            case "II" or "MM":
                return [new BaseMap.Tiff(name, PictureTiff.Open(path, epsg))];
            case "SQ":
                BasePackage package = BasePackage.Open(path, epsg);
                string Named(string table) => package.Tiles.Count + package.Features.Count > 1 ? $"{name}, {table}" : name;
                return [.. package.Tiles.Select(t => new BaseMap.Tiles(Named(t.Name), package, t)), .. package.Features.Select(f => new BaseMap.Outlines(Named(f.Name), f))];
            default:
                throw new SurveyException(path, null, "this is neither a GeoTIFF nor a GeoPackage", "convert it with “gdal_translate” or “ogr2ogr”");
        }
    }

    // The first two letters: “II” or “MM” of a TIFF, “SQ” of SQLite.
    private static string Kind(string path)
    {
        try
        {
            using FileStream file = File.OpenRead(path);
            return new string([(char)Math.Max(0, file.ReadByte()), (char)Math.Max(0, file.ReadByte())]);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(path, null, Directory.Exists(path) ? "this is a folder and no base map" : "the base map can't be opened", "check its name, and that it may be read", e);
        }
    }
}
