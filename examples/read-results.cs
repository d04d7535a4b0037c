#:project ../src/Undersand.Storage

// Takes the targets of a results folder and looks at the volume under each.  dotnet run examples/read-results.cs -- RESULTS

using System.Text.Json;
using Undersand;
using Undersand.Storage.Zarr;

if (args is not [string results])
{
    Console.Error.WriteLine("Usage: dotnet run examples/read-results.cs -- RESULTS");
    return 2;
}

ZarrVolume volume = ZarrVolume.Open(Path.Combine(results, "volume.zarr"));
VoxelGrid grid = volume.Grid;
Console.WriteLine($"{grid.CountX} × {grid.CountY} × {grid.CountZ} voxels of {grid.Spacing} m, {volume.Looks.Count} looks");

// targets.geojson is longitude and latitude for maps; the survey's own coordinates are among the properties.
using JsonDocument targets = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(results, "targets.geojson")));
foreach (JsonElement target in targets.RootElement.GetProperty("features").EnumerateArray().Select(f => f.GetProperty("properties")))
{
    double easting = target.GetProperty("easting_m").GetDouble(), northing = target.GetProperty("northing_m").GetDouble(), burial = target.GetProperty("burial_depth_m").GetDouble();
    Console.WriteLine($"{target.GetProperty("id").GetString()}: {easting:0.00} E {northing:0.00} N, top at {burial:0.00} m, probability {target.GetProperty("probability").GetDouble():0.000}");

    // The voxel there: its tile, and its place in the tile's arrays.
    int x = (int)Math.Round((easting - grid.EastingAt(0)) / grid.Spacing), y = (int)Math.Round((northing - grid.NorthingAt(0)) / grid.Spacing);
    int z = Math.Clamp((int)Math.Round((burial - grid.BurialAt(0)) / grid.Spacing), 0, grid.CountZ - 1);
    TileIndex tile = new(x / VoxelGrid.TileSize, y / VoxelGrid.TileSize);
    foreach (Look look in volume.Looks)
    {
        if (volume.Read(tile, look.Index) is not { } sums)
            continue;
        int at = sums.ColumnStart(x % VoxelGrid.TileSize, y % VoxelGrid.TileSize) + z;
        if (sums.Traces[at] > 0)
            Console.WriteLine($"  {look.Name}: amplitude {double.Hypot(sums.Real[at], sums.Imaginary[at]) / sums.Traces[at]:0.0000} from {sums.Traces[at]} traces");
    }
}
return 0;
