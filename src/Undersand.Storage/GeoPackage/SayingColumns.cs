using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;

namespace Undersand.Storage.GeoPackage;

/// <summary>A saying as a row of the table <c>acts</c>: a judgement in columns of its own, everything else as JSON in <c>content</c>.</summary>
internal static class SayingColumns
{
    private const string JudgementKind = "judgement";
    private static readonly JsonSerializerOptions Json = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static (string Kind, string? Content) Write(Saying said) => said switch
    {
        Judgement => (JudgementKind, null),
        Merger m => ("merger", Text(new JsonObject { ["others"] = new JsonArray([.. m.Others.Select(o => (JsonNode)o)]) })),
        Partition p => ("partition", Text(new JsonObject { ["parts"] = Places(p.Parts) })),
        HandOutline o => ("outline", Text(new JsonObject { ["corners"] = Places(o.Corners) })),
        HandMeasure m => ("measure", Text(new JsonObject { ["length_m"] = m.Length, ["width_m"] = m.Width, ["thickness_m"] = m.Thickness, ["burial_m"] = m.Burial, ["source"] = m.Source })),
        Photograph p => ("photograph", Text(new JsonObject { ["file"] = p.File, ["caption"] = p.Caption, ["public"] = p.IsPublic, ["removed"] = p.IsRemoved })),
        Succession s => ("succession", Text(new JsonObject { ["new_id"] = s.NewId })),
        BlindRound r => ("blind_round", Text(new JsonObject { ["seed"] = r.Seed, ["over"] = r.IsOver })),
        PublicWords w => ("public_words", Text(new JsonObject { ["title"] = w.Title, ["contact"] = w.Contact })),
        _ => throw new ArgumentException($"no act is made of a {said.GetType().Name}", nameof(said)),
    };

    /// <param name="kind">As written; null in files made before there was more than judgements.</param>
    /// <param name="content">As written.</param>
    /// <param name="judgement">What the other columns say.</param>
    public static Saying Read(string? kind, string? content, Judgement judgement)
    {
        if (kind is null or JudgementKind)
            return judgement;
        var (id, place, who, when) = (judgement.TargetId, judgement.Place, judgement.Who, judgement.When);
        JsonObject c = JsonNode.Parse(content ?? "{}")!.AsObject();
        return kind switch
        {
            "merger" => new Merger(id, place, [.. c["others"]!.AsArray().Select(o => (string)o!)], who, when),
            "partition" => new Partition(id, place, Places(c["parts"]!), who, when),
            "outline" => new HandOutline(id, place, Places(c["corners"]!), who, when),
            "measure" => new HandMeasure(id, place, (double?)c["length_m"], (double?)c["width_m"], (double?)c["thickness_m"], (double?)c["burial_m"], (string)c["source"]!, who, when),
            "photograph" => new Photograph(id, place, (string)c["file"]!, (string)c["caption"]!, (bool)c["public"]!, (bool)c["removed"]!, who, when),
            "succession" => new Succession(id, place, (string)c["new_id"]!, who, when),
            "blind_round" => new BlindRound((string)c["seed"]!, (bool)c["over"]!, who, when),
            "public_words" => new PublicWords((string)c["title"]!, (string)c["contact"]!, who, when),
            _ => throw new InvalidDataException($"an act is a “{kind}”, which this version does not know"),
        };
    }

    private static string Text(JsonObject content) => content.ToJsonString(Json);

    private static JsonArray Places(IReadOnlyList<GridPoint> places) => [.. places.Select(p => (JsonNode)new JsonArray(p.Easting, p.Northing))];

    private static GridPoint[] Places(JsonNode places) => [.. places.AsArray().Select(p => new GridPoint((double)p![0]!, (double)p[1]!, double.NaN))];
}
