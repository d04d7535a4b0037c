namespace Undersand.Tests.Acoustics;

/// <summary>Reads a table of published or independently computed values from tests/data.</summary>
internal sealed class CheckTable
{
    private readonly List<string> _columns;
    private readonly List<List<string>> _rows = [];

    private CheckTable(IEnumerable<string> lines)
    {
        List<List<string>> all = [.. lines.Where(l => l.Length > 0).Select(Fields)];
        _columns = all[0];
        _rows = all[1..];
    }

    public IEnumerable<Row> Rows => _rows.Select(r => new Row(_columns, r));

    public static CheckTable Read(string pathInData) => new(File.ReadLines(Path.Combine(Root(), "tests", "data", pathInData)));

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Undersand.slnx")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("the tests do not run inside the repository");
    }

    private static List<string> Fields(string line)
    {
        List<string> fields = [""];
        bool quoted = false;
        foreach (char c in line)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == ',' && !quoted)
                fields.Add("");
            else
                fields[^1] += c;
        }
        return fields;
    }

    internal readonly record struct Row(List<string> Columns, List<string> Fields)
    {
        public string Text(string column) => Fields[Columns.IndexOf(column) is var i and >= 0 ? i : throw new ArgumentException($"no column {column}")];

        public double Number(string column) => double.Parse(Text(column));

        public bool Has(string column) => Text(column).Length > 0;
    }
}
