using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Undersand.Positioning;

namespace Undersand.Storage.Zarr;

/// <summary>What stands in a volume's store besides the voxels: arrays, coordinates and attributes after CF-1.11.</summary>
internal sealed class ZarrLayout
{
    private static readonly string[] VoxelDimensions = ["burial", "northing", "easting"];
    private static readonly string[] LookDimensions = ["look", .. VoxelDimensions];
    private readonly string _folder;
    private readonly ProjectedCrs _crs;
    private readonly List<(ZarrArray Array, byte[] Chunk)> _coordinates = [];

    public ZarrLayout(string folder, VoxelGrid grid, IReadOnlyList<Look> looks, ProjectedCrs crs, string surveyName)
    {
        if (looks.Count == 0 || grid.CountX < 1 || grid.CountY < 1 || grid.CountZ < 1)
            throw new ArgumentException("a volume has at least one look and one voxel");
        if (looks.Select((look, index) => look.Index == index).Contains(false))
            throw new ArgumentException("looks come in the order of their indices", nameof(looks));
        _folder = folder;
        _crs = crs;
        Grid = grid;
        Looks = looks;
        Real = Sums("sum_real", "real part of the complex sum of echo amplitudes", looks.Count);
        Imaginary = Sums("sum_imaginary", "imaginary part of the complex sum of echo amplitudes", looks.Count);
        SumOfSquares = Sums("sum_of_squares", "sum of squared magnitudes of single traces", looks.Count);
        Traces = Voxels("traces", "<i4", LookDimensions, 0, "number of traces summed", looks.Count);
        Probability = Voxels("probability", "<f4", VoxelDimensions, "NaN", "probability that the top of a compact body lies in the voxel", null);
        Amplitude = Voxels("amplitude", "<f4", VoxelDimensions, "NaN", "echo amplitude of all lines together: root of the mean, weighted by traces, of the squared amplitudes of the lines' coherent sums", null);
        Coherence = Voxels("coherence", "<f4", VoxelDimensions, "NaN", "share of the traces' energy that is in the lines' coherent sums", null);
        AddCoordinates(looks);
        AddCrs();
        Attributes = new JsonObject
        {
            ["Conventions"] = "CF-1.11",
            ["title"] = $"Imaged volume of {surveyName}",
            ["source"] = "coherent summation of sub-bottom sonar recordings",
            ["comment"] = "Burial counts from the seabed smoothed over 0.5 m. Where traces is 0 nobody looked. (sum_real + i sum_imaginary) / traces is the echo's amplitude.",
        };
    }

    public VoxelGrid Grid { get; }

    public IReadOnlyList<Look> Looks { get; }

    public ZarrArray Real { get; }

    public ZarrArray Imaginary { get; }

    public ZarrArray SumOfSquares { get; }

    public ZarrArray Traces { get; }

    public ZarrArray Probability { get; }

    public ZarrArray Amplitude { get; }

    public ZarrArray Coherence { get; }

    public JsonObject Attributes { get; }

    /// <summary>The coordinates, each with its only chunk.</summary>
    public IReadOnlyList<(ZarrArray Array, byte[] Chunk)> Coordinates => _coordinates;

    public IEnumerable<ZarrArray> Arrays => new[] { Real, Imaginary, SumOfSquares, Traces, Probability, Amplitude, Coherence }.Concat(_coordinates.Select(c => c.Array));

    private ZarrArray Sums(string name, string words, int looks) => Voxels(name, "<f4", LookDimensions, 0.0, words, looks);

    private ZarrArray Voxels(string name, string type, string[] dimensions, JsonNode fill, string words, int? looks)
    {
        int[] shape = [Grid.CountZ, Grid.CountY, Grid.CountX], chunk = [Grid.CountZ, VoxelGrid.TileSize, VoxelGrid.TileSize];
        var attributes = new JsonObject { ["long_name"] = words, ["units"] = "1", ["grid_mapping"] = "crs", ["_CRS"] = GdalCrs() };
        if (looks is not null)
            attributes["coordinates"] = "look_name look_line look_group";
        return Array(name, type, looks is int n ? [n, .. shape] : shape, looks is null ? chunk : [1, .. chunk], fill, dimensions, attributes);
    }

    // GDAL's Zarr driver does not follow grid_mapping; this is its own convention for the same. By text and not by the register's address: where the
    // register lists northings first, GDAL 3.6 mixes up the axes.
    private JsonObject GdalCrs() => new() { ["wkt"] = _crs.Wkt2 };

    private ZarrArray Array(string name, string type, int[] shape, int[] chunks, JsonNode? fill, string[] dimensions, JsonObject attributes)
    {
        attributes["_ARRAY_DIMENSIONS"] = new JsonArray([.. dimensions.Select(d => (JsonNode)d)]);
        return new ZarrArray(Path.Combine(_folder, name), type, shape, chunks, fill, attributes);
    }

    private void AddCoordinates(IReadOnlyList<Look> looks)
    {
        AddAxis("easting", Grid.CountX, Grid.EastingAt, new() { ["standard_name"] = "projection_x_coordinate", ["long_name"] = "easting", ["units"] = "m", ["axis"] = "X" });
        AddAxis("northing", Grid.CountY, Grid.NorthingAt, new() { ["standard_name"] = "projection_y_coordinate", ["long_name"] = "northing", ["units"] = "m", ["axis"] = "Y" });
        AddAxis("burial", Grid.CountZ, Grid.BurialAt, new() { ["long_name"] = "burial below the seabed smoothed over 0.5 m", ["units"] = "m", ["axis"] = "Z", ["positive"] = "down" });
        AddNumbers("look", [.. looks.Select(l => l.Index)], "index of the look");
        AddNumbers("look_line", [.. looks.Select(l => l.Line)], "index of the survey line");
        AddNumbers("look_group", [.. looks.Select(l => l.Group)], "index of the aperture's group within the line");
        AddNames(looks);
    }

    // Axes are whole numbers of spacings: GDAL drops the georeference of axes it finds uneven.
    private void AddAxis(string name, int count, Func<double, double> at, JsonObject attributes)
    {
        byte[] bytes = new byte[8 * count];
        for (int i = 0; i < count; i++)
            BinaryPrimitives.WriteDoubleLittleEndian(bytes.AsSpan(8 * i), at(i));
        _coordinates.Add((Array(name, "<f8", [count], [count], null, [name], attributes), bytes));
    }

    private void AddNumbers(string name, int[] values, string words)
    {
        byte[] bytes = new byte[4 * values.Length];
        for (int i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(4 * i), values[i]);
        _coordinates.Add((Array(name, "<i4", [values.Length], [values.Length], null, ["look"], new() { ["long_name"] = words, ["units"] = "1" }), bytes));
    }

    // NumPy's fixed-length Unicode: four bytes a character, filled up with zeros.
    private void AddNames(IReadOnlyList<Look> looks)
    {
        int length = Math.Max(1, looks.Max(l => Encoding.UTF32.GetByteCount(l.Name) / 4));
        byte[] bytes = new byte[4 * length * looks.Count];
        foreach (Look look in looks)
            Encoding.UTF32.GetBytes(look.Name, bytes.AsSpan(4 * length * look.Index));
        _coordinates.Add((Array("look_name", $"<U{length}", [looks.Count], [looks.Count], null, ["look"], new() { ["long_name"] = "name of the look" }), bytes));
    }

    private void AddCrs()
    {
        var attributes = new JsonObject();
        foreach (var (key, value) in _crs.CfAttributes)
            attributes[key] = value is double number ? JsonValue.Create(number) : JsonValue.Create((string)value);
        attributes["crs_wkt"] = _crs.Wkt2;
        attributes["spatial_ref"] = _crs.Wkt;
        string spacing = Number(Grid.Spacing);
        attributes["GeoTransform"] = $"{Number(Grid.EastingAt(-0.5))} {spacing} 0 {Number(Grid.NorthingAt(-0.5))} 0 {spacing}";
        attributes["epsg"] = _crs.Epsg;
        _coordinates.Add((Array("crs", "<i4", [], [], null, [], attributes), new byte[4]));
    }

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
