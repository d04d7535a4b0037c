using System.Text.Json;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Web;

/// <summary>All that map and section need to know of the results, in one document.</summary>
internal static class ViewJson
{
    /// <param name="results">The results.</param>
    /// <param name="maps">The plan's pictures.</param>
    /// <param name="sections">The section's pictures.</param>
    /// <param name="desk">What people said.</param>
    /// <param name="bases">Maps of the user's own.</param>
    /// <param name="blind">The round in which the reader judges without the machine's numbers and others' judgements, or null.</param>
    public static byte[] Of(OpenedResults results, MapTiles maps, SectionTiles sections, JudgementDesk desk, BaseMaps bases, BlindRound? blind)
    {
        IReadOnlyDictionary<string, SaidMark> said = blind is null ? Said(desk.Judged) : SecondJudge.Said(desk.Judged);
        return JsonBytes.OfObject(json =>
        {
            json.WriteString("name", results.Name);
            json.WriteString("crs", results.Crs.Name);
            json.WriteString("code", $"EPSG:{results.Crs.Epsg}");
            json.WriteString("datum", results.Crs.GeographicName);
            json.WriteString("proj", Proj(results));
            json.WriteString("version", results.Version);
            json.WriteString("newest", results.NewestPing?.ToString());
            Numbers(json, "extent", maps.West, results.Maps["probability"].South, results.Maps["probability"].East, maps.North);
            Numbers(json, "origin", maps.West, maps.North);
            Numbers(json, "resolutions", [.. Enumerable.Range(0, maps.Levels).Select(z => maps.Spacing * Math.Pow(2, maps.Coarsest - z))]);
            VoxelGrid grid = results.Volume.Grid;
            json.WriteStartObject("volume");
            json.WriteNumber("voxel", grid.Spacing);
            Numbers(json, "corner", grid.EastingAt(-0.5), grid.NorthingAt(-0.5));
            Numbers(json, "counts", grid.CountX, grid.CountY, grid.CountZ);
            json.WriteNumber("levels", grid.CountZ);
            json.WriteNumber("firstBurial", grid.FirstBurial - 0.5 * grid.Spacing);
            json.WriteNumber("firstDepth", sections.FirstDepth);
            json.WriteNumber("depthLevels", sections.DepthRows);
            json.WriteEndObject();
            WriteQuantities(json, "maps", blind is null ? maps.Quantities : SecondJudge.MayShow(maps.Quantities));
            WriteQuantities(json, "sections", blind is null ? sections.Quantities : SecondJudge.MayShow(sections.Quantities));
            WriteQuantities(json, "echoes", [EchoTiles.Strength]);
            json.WriteStartArray("lines");
            foreach (LineResult line in results.Contents.Lines)
                if (sections.Line(line.Name) is { } path)
                    WriteLine(json, line, path);
            json.WriteEndArray();
            json.WriteStartArray("targets");
            foreach (Target target in blind is null ? results.Targets : desk.Shuffled(blind.Seed))
                WriteTarget(json, target, said.GetValueOrDefault(target.Id), blind is null);
            json.WriteEndArray();
            GroundJson.Write(json, results, maps, bases);
        });
    }

    /// <summary>What people made of the targets, as map and section draw it.</summary>
    public static IReadOnlyDictionary<string, SaidMark> Said(JudgedSurvey judged) => judged.All<Saying>().Select(s => s.TargetId).Distinct().ToDictionary(id => id, id => new SaidMark(
        judged.Current.GetValueOrDefault(id)?.Verdict is { } verdict ? SayingWords.Of(verdict) : "",
        [.. judged.Of<HandOutline>(id).SelectMany(o => o.Corners).SelectMany(c => new[] { c.Easting, c.Northing })],
        [.. judged.Of<Partition>(id).SelectMany(p => p.Parts).SelectMany(p => new[] { p.Easting, p.Northing })],
        [.. judged.Of<Merger>(id).SelectMany(m => m.Others)]));

    private static string Proj(OpenedResults results)
    {
        IReadOnlyDictionary<string, object> cf = results.Crs.CfAttributes;
        return FormattableString.Invariant($"+proj=tmerc +lat_0={cf["latitude_of_projection_origin"]} +lon_0={cf["longitude_of_central_meridian"]} +k={cf["scale_factor_at_central_meridian"]} +x_0={cf["false_easting"]} +y_0={cf["false_northing"]} +a={cf["semi_major_axis"]} +rf={cf["inverse_flattening"]} +units=m +no_defs");
    }

    private static void WriteQuantities(Utf8JsonWriter json, string name, IReadOnlyList<Quantity> quantities)
    {
        json.WriteStartArray(name);
        foreach (Quantity q in quantities)
        {
            json.WriteStartObject();
            json.WriteString("name", q.Name);
            json.WriteString("title", q.Title);
            json.WriteString("meaning", q.Meaning);
            json.WriteNumber("low", q.Low);
            json.WriteNumber("high", q.High);
            json.WriteBoolean("downwards", q.Downwards);
            json.WriteString("measure", q.Measure);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteLine(Utf8JsonWriter json, LineResult line, SectionPath path)
    {
        json.WriteStartObject();
        json.WriteString("name", line.Name);
        json.WriteNumber("length", Math.Round(path.Length, 3));
        Numbers(json, "path", [.. path.Corners.SelectMany(c => new[] { c.E, c.N })]);
        Numbers(json, "seabed", [.. line.Pings.Select(p => p.SeabedDepth ?? double.NaN)]);
        json.WriteEndObject();
    }

    private static void WriteTarget(Utf8JsonWriter json, Target t, SaidMark? said, bool withProbability)
    {
        json.WriteStartObject();
        json.WriteString("id", t.Id);
        Numbers(json, "at", t.Position.Easting, t.Position.Northing);
        json.WriteNumber("depth", double.IsNaN(t.Position.Depth) ? 0 : t.Position.Depth);
        Numbers(json, "ellipse", t.EllipseMajor, t.EllipseMinor, t.EllipseAzimuth.Degrees);
        if (t.Alternative is { } other)
            Numbers(json, "other", other.Easting, other.Northing);
        json.WriteNumber("burial", t.BurialDepth.Value);
        json.WriteNumber("burialSd", t.BurialDepth.StandardDeviation);
        if (t.Length is { } length)
            Numbers(json, "size", length, t.OutlineWidth, t.Thickness ?? 0, t.Azimuth?.Degrees ?? 0);
        if (withProbability)
            json.WriteNumber("probability", t.Probability.Value);
        json.WriteString("verdict", said?.Verdict ?? "");
        Numbers(json, "outline", said?.Outline ?? []);
        Numbers(json, "parts", said?.Parts ?? []);
        json.WriteStartArray("mergedWith");
        foreach (string id in said?.MergedWith ?? [])
            json.WriteStringValue(id);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    public static void Numbers(Utf8JsonWriter json, string name, params double[] values)
    {
        json.WriteStartArray(name);
        foreach (double value in values)
            if (double.IsFinite(value))
                json.WriteNumberValue(value);
            else
                json.WriteNullValue();
        json.WriteEndArray();
    }
}
