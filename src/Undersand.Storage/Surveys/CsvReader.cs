using System.Globalization;
using System.Text;
using NodaTime;

namespace Undersand.Storage.Surveys;

/// <summary>Reads a table of comma-separated values (RFC 4180) row by row, by the names in its first line.</summary>
internal sealed class CsvReader : IDisposable
{
    private readonly StreamReader _reader;
    private readonly string _name;
    private readonly int[] _columns;
    private readonly string[] _wanted;
    private string[] _fields = [];
    private int _fieldCount;

    /// <param name="path">Where it lies.</param>
    /// <param name="name">How messages call it.</param>
    /// <param name="required">Columns that must be there.</param>
    /// <param name="optional">Columns that may be there.</param>
    /// <param name="cautions">Receives the names of unknown columns.</param>
    public CsvReader(string path, string name, string[] required, string[] optional, List<Caution> cautions)
    {
        _name = name;
        try
        {
            _reader = new StreamReader(new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1 << 16), Encoding.UTF8);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(name, null, "the file can't be opened", "check that it may be read", e);
        }
        _wanted = [.. required, .. optional];
        string[] header = ReadFields() ? [.. _fields.Take(_fieldCount).Select(f => f.Trim())] : [];
        _columns = [.. _wanted.Select(column => Array.IndexOf(header, column))];
        string[] missing = [.. required.Where((_, i) => _columns[i] < 0)];
        if (missing.Length > 0)
        {
            _reader.Dispose();
            throw new SurveyException(name, "line 1", $"the column {string.Join(", ", missing)} is missing", $"write the header {string.Join(",", required)}");
        }
        foreach (string unknown in header.Except(_wanted).Where(column => column.Length > 0))
            cautions.Add(new Caution(name, $"The column {unknown} is unknown and was ignored."));
    }

    /// <summary>The number of the current line, from 1.</summary>
    public int Line { get; private set; }

    /// <summary>Goes to the next row that isn't blank.</summary>
    public bool Read()
    {
        while (ReadFields())
            if (_fieldCount > 1 || _fields[0].Trim().Length > 0)
                return true;
        return false;
    }

    /// <summary>A field's text; empty where the column or the field is missing.</summary>
    public string Text(int column) => _columns[column] is >= 0 and var at && at < _fieldCount ? _fields[at].Trim() : "";

    public double Number(int column)
    {
        string text = Text(column);
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value))
            return value;
        throw Wrong(column, $"“{text}” is not a number", "write it with a point and without unit");
    }

    public int Integer(int column)
    {
        string text = Text(column);
        return int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int value) ? value : throw Wrong(column, $"“{text}” is not a whole number", "write it without decimals");
    }

    public Instant Time(int column)
    {
        string text = Text(column);
        return UtcTime.TryParse(text, out Instant time) ? time : throw Wrong(column, $"“{text}” is not a UTC time", "write it like 2026-05-04T10:15:30.125Z");
    }

    public SurveyException Wrong(int column, string wrong, string mend) => new(_name, $"line {Line}, {_wanted[column]}", wrong, mend);

    public void Dispose() => _reader.Dispose();

    private bool ReadFields()
    {
        string? line = _reader.ReadLine();
        if (line is null)
            return false;
        Line++;
        _fieldCount = 0;
        if (!line.Contains('"', StringComparison.Ordinal))
        {
            _fields = line.Split(',');
            _fieldCount = _fields.Length;
            return true;
        }
        var fields = new List<string>();
        var field = new StringBuilder();
        for (int i = 0, quoted = 0; i <= line.Length; i++)
        {
            if (i == line.Length && quoted == 1 && _reader.ReadLine() is { } more)
            {
                line = line + "\n" + more;
                Line++;
            }
            if (i == line.Length || line[i] == ',' && quoted == 0) { fields.Add(field.ToString()); field.Clear(); }
            else if (line[i] != '"') field.Append(line[i]);
            else if (quoted == 1 && i + 1 < line.Length && line[i + 1] == '"') { field.Append('"'); i++; }
            else quoted ^= 1;
        }
        _fields = [.. fields];
        _fieldCount = _fields.Length;
        return true;
    }
}
