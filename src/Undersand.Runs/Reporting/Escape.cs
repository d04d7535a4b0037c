using System.Text;

namespace Undersand.Runs.Reporting;

/// <summary>Makes text that users gave harmless in a page.</summary>
internal static class Escape
{
    /// <summary>For element content and quoted attributes; control characters become spaces, broken surrogates the replacement character.</summary>
    public static string Html(string text)
    {
        var safe = new StringBuilder(text.Length + 16);
        foreach (Rune rune in text.EnumerateRunes())
            switch (rune.Value)
            {
                case '&': safe.Append("&amp;"); break;
                case '<': safe.Append("&lt;"); break;
                case '>': safe.Append("&gt;"); break;
                case '"': safe.Append("&quot;"); break;
                case '\'': safe.Append("&#39;"); break;
                default: safe.Append(Rune.IsControl(rune) ? new Rune(' ') : rune); break;
            }
        return safe.ToString();
    }
}
