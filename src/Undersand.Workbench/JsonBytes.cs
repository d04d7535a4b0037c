using System.Text.Json;

namespace Undersand.Workbench;

/// <summary>A JSON document as bytes.</summary>
internal static class JsonBytes
{
    /// <summary>An object.</summary>
    public static byte[] OfObject(Action<Utf8JsonWriter> content) => Of(json =>
    {
        json.WriteStartObject();
        content(json);
        json.WriteEndObject();
    });

    /// <summary>An array.</summary>
    public static byte[] OfArray(Action<Utf8JsonWriter> content, bool indented = false) => Of(json =>
    {
        json.WriteStartArray();
        content(json);
        json.WriteEndArray();
    }, indented);

    private static byte[] Of(Action<Utf8JsonWriter> write, bool indented = false)
    {
        using var memory = new MemoryStream();
        using (var json = new Utf8JsonWriter(memory, new JsonWriterOptions { Indented = indented }))
            write(json);
        return memory.ToArray();
    }
}
