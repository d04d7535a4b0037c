using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http;

namespace Undersand.Workbench.Web;

/// <summary>How the workbench looks to a viewer: light, dark, at night, in the sun.</summary>
internal static class Theme
{
    // The workbench's inks without its fonts, under the report's names, on a screen; paper stays white.
    private static readonly string s_style = "@media screen{" + Regex.Replace(EmbeddedFiles.Text("assets/tokens.css"), "@font-face {.*}", "").ReplaceLineEndings("\n")
        + ":root{--shade:var(--ground);--danger-shade:var(--danger-ground)}svg image{filter:var(--picture)}}";

    private static readonly string s_hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(s_style)));

    public static IReadOnlyList<string> All { get; } = ["light", "dark", "night", "sun"];

    /// <summary>The theme that a viewer chose; null for none.</summary>
    public static string? Of(HttpContext? context) => All.FirstOrDefault(t => t == context?.Request.Cookies["theme"]);

    /// <summary>A report as its reader wants to see it: in the theme chosen, else as it is.</summary>
    public static string Dress(string report, HttpContext context) => Of(context) is not { } theme ? report : report
        .Replace("<html lang=\"en\">", $"<html lang=\"en\" data-theme=\"{theme}\">", StringComparison.Ordinal)
        .Replace("style-src 'sha256-", $"style-src 'sha256-{s_hash}' 'sha256-", StringComparison.Ordinal)
        .Replace("</head>", $"<style>{s_style}</style>\n</head>", StringComparison.Ordinal);
}
