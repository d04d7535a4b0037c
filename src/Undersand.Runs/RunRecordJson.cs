using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using NodaTime.Text;

namespace Undersand.Runs;

/// <summary><c>run.json</c> to bytes and back. Names are the contract with whoever reads the file.</summary>
internal static class RunRecordJson
{
    private static readonly JsonWriterOptions Options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static byte[] ToBytes(RunRecord record)
    {
        using var memory = new MemoryStream();
        using (var json = new Utf8JsonWriter(memory, Options))
            Write(json, record);
        memory.WriteByte((byte)'\n');
        return memory.ToArray();
    }

    public static RunRecord FromBytes(byte[] bytes)
    {
        using var document = JsonDocument.Parse(bytes);
        JsonElement root = document.RootElement, program = root.GetProperty("program");
        return new RunRecord
        {
            SurveyName = Text(root, "survey"),
            Finished = root.GetProperty("finished").GetBoolean(),
            Provisional = root.TryGetProperty("provisional", out JsonElement provisional) && provisional.GetBoolean(),
            NewestPing = root.GetProperty("newest_ping_utc").GetString() is { } t ? InstantPattern.ExtendedIso.Parse(t).GetValueOrThrow() : null,
            ProgramVersion = Text(program, "version"),
            Code = Text(program, "code_version"),
            Runtime = Text(program, "runtime"),
            Engine = Text(root, "engine"),
            Inputs = List(root, "inputs", e => new HashedInput(Text(e, "file"), e.GetProperty("bytes").GetInt64(), Text(e, "sha256"))),
            Settings = root.GetProperty("settings").EnumerateObject().ToDictionary(p => p.Name, p => Value(p.Value)),
            Seeds = root.GetProperty("seeds").EnumerateObject().ToDictionary(p => p.Name, p => p.Value.GetInt64()),
            Assumptions = List(root, "assumptions", e => new Assumption(Text(e, "quantity"), Text(e, "value"), Text(e, "source"))),
            Cautions = List(root, "cautions", e => new Caution(Text(e, "where"), Text(e, "text"), e.GetProperty("count").GetInt32())),
            Steps = List(root, "steps", e => new ProcessingStep(Text(e, "name"),
                e.GetProperty("settings").EnumerateObject().ToDictionary(p => p.Name, p => p.Value.GetString()!))),
            Timings = root.TryGetProperty("timings", out JsonElement timings) ? ReadTimings(timings) : null,
        };
    }

    private static void Write(Utf8JsonWriter json, RunRecord record)
    {
        json.WriteStartObject();
        json.WriteString("survey", record.SurveyName);
        json.WriteBoolean("finished", record.Finished);
        json.WriteBoolean("provisional", record.Provisional);
        json.WriteString("newest_ping_utc", record.NewestPing is { } newest ? InstantPattern.ExtendedIso.Format(newest) : null);
        Object(json, "program", () =>
        {
            json.WriteString("name", "undersand");
            json.WriteString("version", record.ProgramVersion);
            json.WriteString("code_version", record.Code);
            json.WriteString("runtime", record.Runtime);
        });
        json.WriteString("engine", record.Engine);
        WriteInputs(json, record);
        Object(json, "settings", () => Each(record.Settings, (name, value) => WriteValue(json, name, value)));
        Object(json, "seeds", () => Each(record.Seeds, json.WriteNumber));
        WriteLists(json, record);
        if (record.Timings is { } timings)
            WriteTimings(json, timings);
        json.WriteEndObject();
    }

    private static void WriteInputs(Utf8JsonWriter json, RunRecord record) =>
        Array(json, "inputs", record.Inputs.OrderBy(i => i.File, StringComparer.Ordinal), input =>
        {
            json.WriteString("file", input.File);
            json.WriteNumber("bytes", input.Bytes);
            json.WriteString("sha256", input.Sha256);
        });

    private static void WriteLists(Utf8JsonWriter json, RunRecord record)
    {
        Array(json, "assumptions", record.Assumptions, a =>
        {
            json.WriteString("quantity", a.Quantity);
            json.WriteString("value", a.Value);
            json.WriteString("source", a.Source);
        });
        Array(json, "cautions", record.Cautions, c =>
        {
            json.WriteString("where", c.Where);
            json.WriteString("text", c.Text);
            json.WriteNumber("count", c.Count);
        });
        Array(json, "steps", record.Steps, s =>
        {
            json.WriteString("name", s.Name);
            Object(json, "settings", () => Each(s.Settings, json.WriteString));
        });
    }

    private static void WriteTimings(Utf8JsonWriter json, RunTimings timings) => Object(json, "timings", () =>
    {
        json.WriteString("started_utc", InstantPattern.ExtendedIso.Format(timings.Started));
        json.WriteNumber("seconds", Math.Round(timings.Seconds, 3));
        json.WriteNumber("threads", timings.Threads);
        json.WriteNumber("tiles_taken_over", timings.TilesTakenOver);
        Array(json, "steps", timings.StepSeconds, s =>
        {
            json.WriteString("name", s.Step);
            json.WriteNumber("seconds", Math.Round(s.Seconds, 3));
        });
    });

    private static RunTimings ReadTimings(JsonElement e) => new(
        InstantPattern.ExtendedIso.Parse(Text(e, "started_utc")).GetValueOrThrow(), e.GetProperty("seconds").GetDouble(), e.GetProperty("threads").GetInt32(),
        List(e, "steps", s => new StepTime(Text(s, "name"), s.GetProperty("seconds").GetDouble())), e.GetProperty("tiles_taken_over").GetInt32());

    private static void WriteValue(Utf8JsonWriter json, string name, object? value)
    {
        json.WritePropertyName(name);
        switch (value)
        {
            case null: json.WriteNullValue(); break;
            case string text: json.WriteStringValue(text); break;
            case bool truth: json.WriteBooleanValue(truth); break;
            case int or long: json.WriteNumberValue(Convert.ToInt64(value, CultureInfo.InvariantCulture)); break;
            case double number: json.WriteNumberValue(number); break;
            default: throw new ArgumentException($"the setting “{name}” is a {value.GetType().Name}; a setting is a number, a text, true, false or null", nameof(value));
        }
    }

    private static object? Value(JsonElement e) => e.ValueKind switch
    {
        JsonValueKind.Null => null,
        JsonValueKind.String => e.GetString(),
        JsonValueKind.Number => e.TryGetInt64(out long whole) ? (object)whole : e.GetDouble(),
        _ => e.GetBoolean(),
    };

    private static string Text(JsonElement e, string name) =>
        e.GetProperty(name).GetString() ?? throw new FormatException($"“{name}” is null");

    private static List<T> List<T>(JsonElement e, string name, Func<JsonElement, T> read) => [.. e.GetProperty(name).EnumerateArray().Select(read)];

    // Dictionaries keep no order: names do.
    private static void Each<T>(IReadOnlyDictionary<string, T> values, Action<string, T> write)
    {
        foreach ((string name, T value) in values.OrderBy(v => v.Key, StringComparer.Ordinal))
            write(name, value);
    }

    private static void Object(Utf8JsonWriter json, string name, Action content)
    {
        json.WriteStartObject(name);
        content();
        json.WriteEndObject();
    }

    private static void Array<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> content)
    {
        json.WriteStartArray(name);
        foreach (T item in items)
        {
            json.WriteStartObject();
            content(item);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }
}
