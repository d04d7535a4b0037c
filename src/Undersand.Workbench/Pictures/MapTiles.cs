using System.IO.Compression;
using Undersand.Runs.Reporting;
using Undersand.Storage.GeoTiff;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Pictures;

/// <summary>Cuts the results' maps into pictures of 256 × 256 pixels for any zoom, in the survey's own reference system.</summary>
/// <remarks>
/// The grid's upper left corner is that of the probability's map. At level z a pixel is <c>Spacing · 2^(Coarsest − z)</c> metres, so that a pixel at the level of
/// the voxels is a voxel. Pixels are never invented: zoomed in, a value stays a square.
/// </remarks>
internal sealed class MapTiles
{
    public const int Size = 256;

    // Levels finer than a voxel, for looking closely.
    private const int Finer = 5;
    private const double ListedFrom = 0.2;
    private readonly OpenedResults _results;
    private readonly KeptPictures<(string, int, int, int), float[]> _values = new(96);
    private readonly KeptPictures<(string, int, int, int), byte[]> _pictures = new(512);

    public MapTiles(OpenedResults results)
    {
        _results = results;
        GeoTiffMap frame = results.Maps["probability"];
        (West, North, Spacing) = (frame.West, frame.North, frame.Spacing);
        double side = Math.Max(frame.East - frame.West, frame.North - frame.South);
        Coarsest = Math.Max(0, (int)Math.Ceiling(Math.Log2(side / (Size * Spacing)))) + 1;
        (double shallow, double deep) = Range(results.Maps["seabed"]);
        double deepest = results.Volume.Grid.BurialAt(results.Volume.Grid.CountZ - 0.5);
        double sphere = results.Contents.Coverage.Count > 0 ? results.Contents.Coverage[0].SphereDiameter : double.NaN;
        string ball = double.IsNaN(sphere) ? "A hard ball" : FormattableString.Invariant($"A hard ball of {sphere} m");
        Quantities =
        [
            new("seabed", "Depth of the seabed", "Below the water surface, smoothed over 0.5 m.", ColourMap.Depth, shallow, deep, true, "depth"),
            new("probability", "Greatest probability", "Greatest probability in each column of the ground that a compact body lies there. Not calibrated yet.", ColourMap.Probability, 0, 1, false),
            new("burial", "Burial of the greatest", $"How deep below the seabed the probability is greatest, where it is at least {ListedFrom}.", ColourMap.Burial, 0, deepest, true, "length"),
            new("seen", $"{ball} could have been seen to", $"Burial down to which it would have stood out. {MapPages.Unlike}", ColourMap.Burial, 0, deepest, true, "length"),
        ];
    }

    public double West { get; }

    public double North { get; }

    public double Spacing { get; }

    /// <summary>Steps by two from level 0 to the level where a pixel is a voxel.</summary>
    public int Coarsest { get; }

    public int Levels => Coarsest + Finer + 1;

    public IReadOnlyList<Quantity> Quantities { get; }

    /// <summary>A picture, or null where the quantity or the level isn't known.</summary>
    public byte[]? Picture(string name, int z, int x, int y)
    {
        if (z < 0 || z >= Levels)
            return null;
        if (name is "ground" or "ground.over")
            return _pictures.Get((name, z, x, y), Ground);
        return Quantities.FirstOrDefault(q => q.Name == name) is { } quantity ? _pictures.Get((name, z, x, y), key => Coloured(quantity, z, x, y)) : null;
    }

    /// <summary>The value of a quantity's map at a place; NaN where there is no data.</summary>
    public double At(string map, double easting, double northing) => Reader(map).At(easting, northing);

    /// <summary>Reads many values of one map, neighbours one after another; for one thread.</summary>
    public MapReader Reader(string map) => new(_results.Maps[map], (l, x, y) => _values.Get((map, l, x, y), k => _results.Maps[map].ReadTile(k.Item2, k.Item3, k.Item4)));

    private byte[] Coloured(Quantity quantity, int z, int x, int y)
    {
        var indices = new byte[Size * Size];
        Func<double, double, double, double> value = Values(quantity.Name);
        ForEachPixel(z, x, y, (pixel, e, n, metres) => indices[pixel] = quantity.IndexOf(value(e, n, metres)));
        return Png.Encode(Size, Size, indices, quantity.Map, CompressionLevel.Fastest);
    }

    // What a pixel of so many metres shows.
    private Func<double, double, double, double> Values(string name)
    {
        MapReader map = Reader(name switch { "seen" => "could_have_seen", "seabed" => "seabed", _ => "probability" });
        if (name == "seen")
            return (e, n, _) => map.At(e, n) is > 0 and double seen ? seen : double.NaN;
        if (name == "seabed")
            return (e, n, metres) => map.At(e, n, LevelFor("seabed", metres));
        if (name == "probability")
            return (e, n, metres) => Greatest(map, e, n, metres).P;
        MapReader burial = Reader("burial_of_greatest");
        return (e, n, metres) => Greatest(map, e, n, metres) is var (p, east, north) && p >= ListedFrom ? burial.At(east, north) : double.NaN;
    }

    // The greatest probability within a pixel, and where; overviews hold the greatest already, but end once the map fits a tile.
    private (double P, double E, double N) Greatest(MapReader map, double e, double n, double metres)
    {
        int level = Math.Min(LevelFor("probability", metres), _results.Maps["probability"].Levels.Count - 1);
        double cell = Spacing * (1 << level);
        int cells = Math.Max(1, (int)Math.Round(metres / cell));
        var best = (P: double.NaN, E: e, N: n);
        for (int i = 0; i < cells * cells; i++)
        {
            double x = e + (i % cells - 0.5 * (cells - 1)) * cell, y = n + (i / cells - 0.5 * (cells - 1)) * cell, p = map.At(x, y, level);
            if (p > best.P || double.IsNaN(best.P))
                best = (p, x, y);
        }
        return best;
    }

    private int LevelFor(string map, double metres) => (int)Math.Round(Math.Log2(Math.Max(metres / _results.Maps[map].Spacing, 1)));

    // Told apart by texture alone: slanting lines where no sound went, dots where it went and would have shown nothing, plain where it would have.
    // Patterns repeat every 16 pixels, so that they run on across tiles. Over a base map each stroke has a light edge and is darker, so that it is read on any chart.
    private byte[] Ground((string, int, int, int) key)
    {
        var indices = new byte[Size * Size];
        MapReader reach = Reader("could_have_seen");
        ForEachPixel(key.Item2, key.Item3, key.Item4, (pixel, e, n, _) =>
        {
            int px = pixel % Size, py = pixel / Size;
            double seen = reach.At(e, n);
            int slant = (px + py) % 16, dot = py % 8 < 2 ? (px + py / 8 % 2 * 4) % 8 : 8;
            indices[pixel] = double.IsNaN(seen) ? Stroke(slant, 120) : seen > 0 ? (byte)0 : Stroke(dot, 150);
        });
        return Png.Encode(Size, Size, indices, ColourMap.Amplitude, CompressionLevel.Fastest);

        byte Stroke(int at, byte grey) => key.Item1 == "ground" ? (at < 2 ? grey : (byte)0) : at < 2 ? (byte)230 : at < 4 ? (byte)1 : (byte)0;
    }

    /// <summary>Goes through a picture's pixels: index, easting and northing of the centre, metres across.</summary>
    public void ForEachPixel(int z, int x, int y, Action<int, double, double, double> at)
    {
        double metres = Spacing * Math.Pow(2, Coarsest - z), west = West + x * Size * metres, north = North - y * Size * metres;
        for (int pixel = 0; pixel < Size * Size; pixel++)
            at(pixel, west + (pixel % Size + 0.5) * metres, north - (pixel / Size + 0.5) * metres, metres);
    }

    // From the coarsest overview: its means lie within the values' range, which is all a scale needs.
    private static (double Low, double High) Range(GeoTiffMap map)
    {
        int level = map.Levels.Count - 1;
        float[] values = [.. map.ReadTile(level, 0, 0).Where(float.IsFinite)];
        if (values.Length == 0)
            return (0, 1);
        double low = Math.Floor(values.Min() * 20) / 20, high = Math.Ceiling(values.Max() * 20) / 20;
        return high - low < 0.1 ? (low - 0.05, high + 0.05) : (low, high);
    }
}
