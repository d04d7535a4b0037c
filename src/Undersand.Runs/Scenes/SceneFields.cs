using System.Text.Json;

namespace Undersand.Runs.Scenes;

/// <summary>The fields of an object in a scene file, read one by one; those nobody asked for are named.</summary>
internal sealed class SceneFields
{
    private const string See = "see docs/scene.schema.json";
    private readonly string _file, _path;
    private readonly Dictionary<string, JsonElement> _fields = [];
    private readonly HashSet<string> _known = ["$schema"];
    private readonly List<Caution> _cautions;

    private SceneFields(string file, string path, JsonElement element, List<Caution> cautions)
    {
        (_file, _path, _cautions) = (file, path, cautions);
        if (element.ValueKind != JsonValueKind.Object)
            throw new SurveyException(file, path.Length == 0 ? null : path, "an object { … } is expected here", See);
        foreach (JsonProperty property in element.EnumerateObject())
            _fields[property.Name] = property.Value;
    }

    public static SceneFields Read(string path, List<Caution> cautions)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            using var document = JsonDocument.Parse(stream, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            return new SceneFields(path, "", document.RootElement.Clone(), cautions);
        }
        catch (JsonException e)
        {
            throw new SurveyException(path, $"line {(e.LineNumber ?? 0) + 1}", "this is not valid JSON", "mend the text there (a comma, a quote or a bracket)", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(path, null, "the scene can't be opened", "check its name and that it may be read", e);
        }
    }

    public SurveyException Wrong(string name, string wrong, string mend) => new(_file, PathOf(name), wrong, mend);

    public double? Number(string name, double least, double most)
    {
        if (Get(name) is not { } element)
            return null;
        double value = NumberOf(element, name);
        return value >= least && value <= most ? value : throw Wrong(name, $"{value} is outside {least} to {most}", "write a value in the unit that the field's name ends with");
    }

    public double Need(string name, double least, double most) => Number(name, least, most) ?? throw Wrong(name, "the field is missing", "add it");

    public int? Whole(string name, int least, int most) => Number(name, least, most) switch
    {
        null => null,
        { } value when value == Math.Floor(value) => (int)value,
        _ => throw Wrong(name, "a whole number is expected here", See),
    };

    public Angle Degrees(string name) => Angle.FromDegrees(Number(name, -360, 360) ?? 0);

    public bool Flag(string name, bool otherwise) => Get(name) switch
    {
        null => otherwise,
        { ValueKind: JsonValueKind.True } => true,
        { ValueKind: JsonValueKind.False } => false,
        _ => throw Wrong(name, "true or false is expected here", See),
    };

    public string? Text(string name) => Get(name) switch
    {
        null => null,
        { ValueKind: JsonValueKind.String } text => text.GetString(),
        _ => throw Wrong(name, "a text in quotes is expected here", See),
    };

    public string NeedText(string name) => Text(name) ?? throw Wrong(name, "the field is missing", "add it");

    public SceneFields? Object(string name) => Get(name) is { } element ? new SceneFields(_file, PathOf(name), element, _cautions) : null;

    public SceneFields Required(string name) => Object(name) ?? throw Wrong(name, "the field is missing", "add it");

    public IReadOnlyList<SceneFields> Objects(string name) =>
        [.. Array(name).Select((element, i) => new SceneFields(_file, $"{PathOf(name)}[{i}]", element, _cautions))];

    public IReadOnlyList<double> Numbers(string name) => [.. Array(name).Select((element, i) => NumberOf(element, $"{name}[{i}]"))];

    public IReadOnlyList<double[]> Rows(string name, int width) => [.. Array(name).Select((row, i) =>
        row.ValueKind == JsonValueKind.Array && row.GetArrayLength() == width
            ? row.EnumerateArray().Select(value => NumberOf(value, $"{name}[{i}]")).ToArray()
            : throw Wrong($"{name}[{i}]", $"a list of {width} numbers is expected here", See))];

    /// <summary>Names each field that nobody asked for.</summary>
    public void NameUnknown()
    {
        foreach (string name in _fields.Keys.Where(name => !_known.Contains(name)))
            _cautions.Add(new Caution(_file, $"The field {PathOf(name)} is unknown and was ignored."));
    }

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

    private string PathOf(string name) => _path.Length == 0 ? name : $"{_path}.{name}";
}
