namespace Undersand.Storage;

/// <summary>Cells of tables of comma-separated values (RFC 4180).</summary>
internal static class CsvText
{
    /// <summary>A cell, quoted where it must be.</summary>
    public static string Quoted(string value) =>
        value.AsSpan().IndexOfAny("\",\r\n") < 0 ? value : "\"" + value.Replace("\"", "\"\"") + "\"";

    /// <summary>A text that a spreadsheet would run as a formula (OWASP, “CSV Injection”), with an apostrophe in front.</summary>
    public static string Harmless(string value) =>
        value.Length > 0 && value[0] is '=' or '+' or '-' or '@' or '\t' or '\r' ? "'" + value : value;
}
