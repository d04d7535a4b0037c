using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace Undersand.Runs.Reporting;

/// <summary>Takes chance out of a PDF, so that the same pages are the same bytes.</summary>
/// <remarks>
/// PDFsharp draws by lot the file's identifiers and the six letters before the name of a font of which a part is embedded. What replaces them is as long, so
/// that every offset stays right; identifiers come from the content, as ISO 32000-1, 14.4 advises.
/// </remarks>
internal static partial class PdfChance
{
    /// <summary>The same pages with nothing in them that differs from time to time.</summary>
    public static byte[] Remove(byte[] pdf)
    {
        var fonts = new List<string>();
        string text = Part().Replace(Encoding.Latin1.GetString(pdf), tag => "AAAAA" + (char)('A' + NumberOf(tag.Value)));
        byte[] content = SHA256.HashData(Encoding.Latin1.GetBytes(Identified(text, new byte[16])))[..16];
        return Encoding.Latin1.GetBytes(Identified(text, content));

        int NumberOf(string tag)
        {
            if (!fonts.Contains(tag))
                fonts.Add(tag);
            return fonts.IndexOf(tag);
        }
    }

    private static string Identified(string text, byte[] id) =>
        FileId().Replace(Uuid().Replace(text, new Guid(id).ToString()), $"/ID[<{Convert.ToHexString(id)}><{Convert.ToHexString(id)}>]");

    [GeneratedRegex(@"(?<=/(?:BaseFont|FontName)/)[A-Z]{6}(?=\+)")]
    private static partial Regex Part();

    [GeneratedRegex("(?<=<xmpMM:(?:Document|Instance)ID>uuid:)[0-9a-f-]{36}")]
    private static partial Regex Uuid();

    [GeneratedRegex(@"/ID\[<[0-9A-F]{32}><[0-9A-F]{32}>\]")]
    private static partial Regex FileId();
}
