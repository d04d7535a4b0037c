using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;

namespace Undersand.Runs.Reporting;

/// <summary>Gives PDFsharp the embedded fonts and no others, so that no machine's own fonts matter.</summary>
internal sealed class EmbeddedFonts : IFontResolver
{
    private const string Family = "Report Sans";
    private static readonly Lock _gate = new();

    /// <summary>Registers the fonts with the library, once for the process.</summary>
    public static void Use()
    {
        lock (_gate)
            GlobalFontSettings.FontResolver ??= new EmbeddedFonts();
    }

    public static XFont Font(double points, bool bold) =>
        new(Family, points, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular, new XPdfFontOptions(PdfFontEncoding.Unicode, PdfFontEmbedding.TryComputeSubset));

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "bold" : "regular");

    public byte[]? GetFont(string faceName) => Typeface.Of(faceName == "bold").File;
}
