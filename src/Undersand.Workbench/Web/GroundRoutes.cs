using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;
using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>What lies under the survey and beside it: base maps and magnetics.</summary>
internal static class GroundRoutes
{
    private static readonly byte[] _empty = Png.EncodeColours(1, 1, new byte[4]);

    public static void Map(WebApplication app)
    {
        app.MapGet("/base/{i:int}/{z:int}/{x:int}/{y:int}", BaseAsync);
        app.MapGet("/base/{i:int}/outlines", (int i, BaseMaps bases) => bases.All.ElementAtOrDefault(i) is BaseMap.Outlines outlines ? Answer.Bytes(GroundJson.Outlines(outlines.Table), "application/json") : Answer.NotFound());
        app.MapGet("/api/magnetics", (OpenedResults results) => Answer.Bytes(GroundJson.Magnetics(results.Contents.Magnetics), "application/json"));
    }

    private static async Task<IResult> BaseAsync(int i, int z, int x, int y, BaseMaps bases, MapTiles maps, Painters painters, HttpContext context)
    {
        if (z < 0)
            return Answer.NotFound();
        switch (bases.All.ElementAtOrDefault(i))
        {
            case BaseMap.Tiff tiff when z < maps.Levels:
                double metres = maps.Spacing * Math.Pow(2, maps.Coarsest - z), side = MapTiles.Size * metres;
                // Beyond the file there is nothing to draw, which is no fault: an empty picture.
                return Routes.Picture(await painters.PaintAsync(() => tiff.Picture(maps.West + x * side, maps.North - y * side, metres), context.RequestAborted) ?? _empty, context);
            case BaseMap.Tiles tiles:
                return tiles.File.Tile(tiles.Table, z, x, y) is { } tile ? Routes.Picture(tile.Bytes, context, tile.Type) : Routes.Picture(_empty, context);
            default:
                return Answer.NotFound();
        }
    }
}
