using System.Text.Json;

namespace Undersand.Storage;

/// <summary>The fields of an object in a JSON file that people write, read one by one; those nobody asked for are named in a caution.</summary>
/// <remarks>Whatever is not as expected becomes a <see cref="SurveyException"/> that names the field.</remarks>
public sealed class JsonFields
{
    private readonly string _file, _path, _page;
    private readonly List<Caution> _cautions;
    private readonly Dictionary<string, JsonElement> _fields = [];
    private readonly HashSet<string> _known = ["$schema"];

    private JsonFields(string file, string path, JsonElement element, string page, List<Caution> cautions)
    {
        (_file, _path, _page, _cautions) = (file, path, page, cautions);
        if (element.ValueKind != JsonValueKind.Object)
            throw new SurveyException(file, path.Length == 0 ? null : path, "an object { … } is expected here", See);
        foreach (JsonProperty property in element.EnumerateObject())
            _fields[property.Name] = property.Value;
    }

    private string See => "see " + _page;

    /// <summary>Reads a whole file; comments and trailing commas are allowed.</summary>
    /// <param name="path">Where it lies.</param>
    /// <param name="name">How messages call it.</param>
    /// <param name="page">The page that describes its fields.</param>
    /// <param name="cautions">Takes the names of unknown fields.</param>
    /// <exception cref="SurveyException">It can't be opened or is not one JSON object.</exception>
    public static JsonFields Read(string path, string name, string page, List<Caution> cautions)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            using var document = JsonDocument.Parse(stream, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            return new JsonFields(name, "", document.RootElement.Clone(), page, cautions);
        }
        catch (JsonException e)
        {
            throw new SurveyException(name, $"line {(e.LineNumber ?? 0) + 1}", "this is not valid JSON", "mend the text there (a comma, a quote or a bracket)", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(name, null, "the file can't be opened", "check that it exists and may be read", e);
        }
    }

    /// <summary>What to throw about a field.</summary>
    /// <param name="name">The field.</param>
    /// <param name="wrong">What is wrong with it.</param>
    /// <param name="mend">How to mend it.</param>
    public SurveyException Wrong(string name, string wrong, string mend) => new(_file, PathOf(name), wrong, mend);

    /// <summary>A number within bounds, or null where it is not given.</summary>
    public double? Number(string name, double least, double most)
    {
        if (Get(name) is not { } element)
            return null;
        double value = NumberOf(element, name);
        return value >= least && value <= most ? value : throw Wrong(name, $"{value} is outside {least} to {most}", "write a value in the unit that the field's name ends with");
    }

    /// <summary>A number within bounds that must be given.</summary>
    public double Need(string name, double least, double most) => Number(name, least, most) ?? throw Missing(name);

    /// <summary>A whole number within bounds, or null where it is not given.</summary>
    public int? Whole(string name, int least, int most) => Number(name, least, most) switch
    {
        null => null,
        { } value when value == Math.Floor(value) => (int)value,
        _ => throw Wrong(name, "a whole number is expected here", See),
    };

    /// <summary>A whole number within bounds that must be given.</summary>
    public int NeedWhole(string name, int least, int most) => Whole(name, least, most) ?? throw Missing(name);

    /// <summary>An angle written in degrees; 0 where it is not given.</summary>
    public Angle Degrees(string name) => Angle.FromDegrees(Number(name, -360, 360) ?? 0);

    /// <summary>True or false, or <paramref name="otherwise"/> where it is not given.</summary>
    public bool Flag(string name, bool otherwise) => Get(name) switch
    {
        null => otherwise,
        { ValueKind: JsonValueKind.True } => true,
        { ValueKind: JsonValueKind.False } => false,
        _ => throw Wrong(name, "true or false is expected here", See),
    };

    /// <summary>A text, or null where it is not given.</summary>
    public string? Text(string name) => Get(name) switch
    {
        null => null,
        { ValueKind: JsonValueKind.String } text => text.GetString(),
        _ => throw Wrong(name, "a text in quotes is expected here", See),
    };

    /// <summary>A text that must be given.</summary>
    public string NeedText(string name) => Text(name) ?? throw Missing(name);

    /// <summary>The fields of an object within, or null where it is not given.</summary>
    public JsonFields? Object(string name) => Get(name) is { } element ? Inner(PathOf(name), element) : null;

    /// <summary>The fields of an object within that must be given.</summary>
    public JsonFields NeedObject(string name) => Object(name) ?? throw Missing(name);

    /// <summary>The fields of each object of a list; none where it is not given.</summary>
    public IReadOnlyList<JsonFields> Objects(string name) => [.. Array(name).Select((element, i) => Inner($"{PathOf(name)}[{i}]", element))];

    /// <summary>A list of numbers; empty where it is not given.</summary>
    public IReadOnlyList<double> Numbers(string name) => [.. Array(name).Select((element, i) => NumberOf(element, $"{name}[{i}]"))];

    /// <summary>A list of lists of so many numbers; empty where it is not given.</summary>
    public IReadOnlyList<double[]> Rows(string name, int width) => [.. Array(name).Select((row, i) =>
        row.ValueKind == JsonValueKind.Array && row.GetArrayLength() == width
            ? row.EnumerateArray().Select(value => NumberOf(value, $"{name}[{i}]")).ToArray()
            : throw Wrong($"{name}[{i}]", $"a list of {width} numbers is expected here", See))];

    /// <summary>Positions on the vehicle, written as [[forward, starboard, down], …] in metres; there must be one.</summary>
    public IReadOnlyList<BodyOffset> LeverArms(string name)
    {
        BodyOffset[] arms = [.. Rows(name, 3).Select(row => new BodyOffset(row[0], row[1], row[2]))];
        return arms.Length > 0 ? arms : throw Wrong(name, "the list is missing or empty", "add lever arms as [[forward, starboard, down], …] in metres");
    }

    /// <summary>Names each field that nobody asked for.</summary>
    public void CautionUnknown()
    {
        foreach (string name in _fields.Keys.Where(name => !_known.Contains(name)))
            _cautions.Add(new Caution(_file, $"The field {PathOf(name)} is unknown and was ignored."));
    }

    private JsonFields Inner(string path, JsonElement element) => new(_file, path, element, _page, _cautions);

    private JsonElement[] Array(string name) => Get(name) switch
    {
        null => [],
        { ValueKind: JsonValueKind.Array } list => [.. list.EnumerateArray()],
        _ => throw Wrong(name, "a list [ … ] is expected here", See),
    };

    private JsonElement? Get(string name)
    {
        _known.Add(name);
        return _fields.TryGetValue(name, out JsonElement element) && element.ValueKind != JsonValueKind.Null ? element : null;
    }

    private double NumberOf(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Number && element.TryGetDouble(out double value) && double.IsFinite(value)
            ? value
            : throw Wrong(name, "a number is expected here", "write it without quotes and unit");

    private SurveyException Missing(string name) => Wrong(name, "the field is missing", "add it");

    private string PathOf(string name) => _path.Length == 0 ? name : $"{_path}.{name}";
}
