using System.Text.Json;

namespace Undersand.Storage.Surveys;

/// <summary>The fields of a JSON object, read one by one; those nobody asked for are named in a caution.</summary>
internal sealed class JsonFields
{
    private readonly string _file;
    private readonly string _path;
    private readonly Dictionary<string, JsonElement> _fields = [];
    private readonly HashSet<string> _known = [];

    public JsonFields(string file, string path, JsonElement element)
    {
        (_file, _path) = (file, path);
        if (element.ValueKind != JsonValueKind.Object)
            throw new SurveyException(file, path.Length == 0 ? null : path, "an object { … } is expected here", "see docs/survey.schema.json");
        foreach (JsonProperty property in element.EnumerateObject())
            _fields[property.Name] = property.Value;
    }

    /// <summary>Reads a whole file.</summary>
    public static JsonFields Read(string folder, string file)
    {
        try
        {
            using FileStream stream = File.OpenRead(Path.Combine(folder, file));
            using var document = JsonDocument.Parse(stream, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            return new JsonFields(file, "", document.RootElement.Clone());
        }
        catch (JsonException e)
        {
            throw new SurveyException(file, $"line {(e.LineNumber ?? 0) + 1}", "this is not valid JSON", "mend the text there (a comma, a quote or a bracket)", e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(file, null, "the file can't be opened", "check that it may be read", e);
        }
    }

    public bool Has(string name) => Get(name) is not null;

    public SurveyException Wrong(string name, string wrong, string mend) => new(_file, PathOf(name), wrong, mend);

    public string? Text(string name) => Get(name) switch
    {
        null => null,
        { ValueKind: JsonValueKind.String } text => text.GetString(),
        _ => throw Wrong(name, "a text in quotes is expected here", "see docs/survey.schema.json"),
    };

    /// <summary>A number within bounds, or null where it is not given.</summary>
    public double? Number(string name, double least, double most)
    {
        if (Get(name) is not { } element)
            return null;
        double value = NumberOf(element, name);
        return value >= least && value <= most ? value : throw Wrong(name, $"{value} is outside {least} to {most}", "write a value in the unit that the field's name ends with");
    }

    public double RequiredNumber(string name, double least, double most) =>
        Number(name, least, most) ?? throw Wrong(name, "the field is missing", "add it");

    public JsonFields? Object(string name) => Get(name) is { } element ? new JsonFields(_file, PathOf(name), element) : null;

    /// <summary>A list of lists of numbers, or null.</summary>
    public IReadOnlyList<double[]>? Rows(string name, int width)
    {
        if (Get(name) is not { } element)
            return null;
        if (element.ValueKind != JsonValueKind.Array)
            throw Wrong(name, "a list [ … ] is expected here", "see docs/survey-folder.md");
        var rows = new List<double[]>();
        foreach (JsonElement row in element.EnumerateArray())
        {
            string at = $"{name}[{rows.Count}]";
            if (row.ValueKind != JsonValueKind.Array || row.GetArrayLength() != width)
                throw Wrong(at, $"a list of {width} numbers is expected here", "see docs/survey-folder.md");
            rows.Add([.. row.EnumerateArray().Select(value => NumberOf(value, at))]);
        }
        return rows;
    }

    public IReadOnlyList<double>? Numbers(string name)
    {
        if (Get(name) is not { } element)
            return null;
        if (element.ValueKind != JsonValueKind.Array)
            throw Wrong(name, "a list [ … ] is expected here", "see docs/survey-folder.md");
        return [.. element.EnumerateArray().Select(value => NumberOf(value, name))];
    }

    /// <summary>Names each field that nobody asked for.</summary>
    public void CautionUnknown(List<Caution> cautions)
    {
        foreach (string name in _fields.Keys.Where(name => !_known.Contains(name) && name != "$schema"))
            cautions.Add(new Caution(_file, $"The field {PathOf(name)} is unknown and was ignored."));
    }

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
