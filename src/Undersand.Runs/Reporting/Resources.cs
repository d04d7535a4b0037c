using System.Reflection;

namespace Undersand.Runs.Reporting;

/// <summary>Fonts and colour tables, which travel inside the assembly so that no machine needs any installed.</summary>
internal static class Resources
{
    public static byte[] Bytes(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The assembly lacks its resource {name}.");
        using var memory = new MemoryStream();
        stream.CopyTo(memory);
        return memory.ToArray();
    }

    public static string Text(string name) => System.Text.Encoding.UTF8.GetString(Bytes(name));
}
