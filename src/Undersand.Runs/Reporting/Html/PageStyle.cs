using System.Text;

namespace Undersand.Runs.Reporting;

/// <summary>The page's style sheet: the tokens by day, by night and on paper, then plain typography.</summary>
internal static class PageStyle
{
    public static string Css()
    {
        var css = new StringBuilder();
        css.Append(Font(400, "Regular")).Append(Font(600, "SemiBold"));
        css.Append(":root{color-scheme:light dark;").Append(Variables(i => i.Day)).Append("}\n");
        css.Append("@media (prefers-color-scheme:dark){:root{").Append(Variables(i => i.Night)).Append("}svg image{filter:brightness(.72)}}\n");
        css.Append("@media print{:root{").Append(Variables(i => i.Day)).Append("}svg image{filter:none}}\n");
        return css.Append(Rules).ToString();
    }

    private static string Font(int weight, string name) =>
        $"@font-face{{font-family:\"Report Sans\";font-weight:{weight};src:url(data:font/woff2;base64,{Convert.ToBase64String(Resources.Bytes($"Reporting.Fonts.IBMPlexSans-Latin-{name}.woff2"))}) format(\"woff2\")}}\n";

    private static string Variables(Func<(string Name, string Day, string Night), string> colour) =>
        string.Concat(Tokens.Inks.Values.Select(i => $"--{i.Name}:{colour(i)};"));

    private const string Rules = """
        *{box-sizing:border-box}
        html{-webkit-text-size-adjust:100%;scroll-padding-top:1rem}
        body{margin:0 auto;padding:2.5rem 1.25rem 5rem;max-width:54rem;background:var(--paper);color:var(--text);font:400 1.0625rem/1.55 "Report Sans",system-ui,sans-serif;font-variant-numeric:tabular-nums;overflow-wrap:anywhere}
        h1,h2,h3{line-height:1.2;text-wrap:balance;break-after:avoid}
        h1{font-size:clamp(1.8rem,6vw,2.6rem);font-weight:600;letter-spacing:-.015em;margin:0}
        h2{font-size:1.5rem;font-weight:600;margin:3.5rem 0 1rem;padding-top:.7rem;border-top:.18rem solid var(--text)}
        h3{font-size:1.125rem;font-weight:600;margin:2.25rem 0 .5rem}
        p,ul,dl{max-width:42rem;margin:0 0 1rem}
        .subtitle{color:var(--soft);font-size:1.125rem;margin:.5rem 0 .25rem}
        .date{color:var(--soft);margin-bottom:2rem}
        a{color:var(--track);text-underline-offset:.15em}
        a:focus-visible,.scroll:focus-visible{outline:.18rem solid var(--target);outline-offset:.15rem}
        .skip{position:absolute;left:-99rem}
        .skip:focus{left:1rem;top:1rem;background:var(--paper);padding:.5rem 1rem}
        nav ol{columns:17rem 2;column-gap:2rem;padding:1rem 0 1rem 1.6rem;margin:0 0 2rem;border-block:1px solid var(--rule)}
        nav li{padding:.15rem 0}
        ul{padding-left:1.2rem}
        li{margin:0 0 .4rem}
        .notice{border-left:.4rem solid var(--text);background:var(--shade);padding:1rem 1.25rem .6rem;margin:1.25rem 0}
        .notice h3{margin:0 0 .6rem}
        .notice ul{max-width:none}
        .danger{border-color:var(--danger);background:var(--danger-shade)}
        .danger h3,.danger strong{color:var(--danger)}
        dl{display:grid;gap:.1rem}
        dl div{display:grid;grid-template-columns:minmax(7rem,13rem) 1fr;gap:1rem;padding:.3rem 0;border-bottom:1px solid var(--rule)}
        dt{color:var(--soft)}
        dd{margin:0}
        .scroll{overflow-x:auto;max-width:100%}
        figure{margin:1.75rem 0;break-inside:avoid}
        figure svg{display:block;width:100%;min-width:40rem;height:auto;font-family:"Report Sans",system-ui,sans-serif}
        svg image{image-rendering:pixelated}
        figcaption,caption{color:var(--soft);font-size:.9375rem;line-height:1.45;text-align:left;max-width:46rem}
        figcaption{margin-top:.6rem}
        caption{padding:1.5rem 0 .5rem;color:var(--text)}
        table{border-collapse:collapse;font-size:.9375rem;line-height:1.35;width:100%;margin-bottom:1.5rem;overflow-wrap:normal}
        th,td{text-align:left;vertical-align:top;padding:.4rem .9rem .4rem 0;border-bottom:1px solid var(--rule);font-weight:400;min-width:2.2rem;max-width:26rem}
        td:last-child,th:last-child{padding-right:0}
        thead th{font-weight:600;vertical-align:bottom;border-bottom:.12rem solid var(--text)}
        tbody th{font-weight:600}
        .n{text-align:right;white-space:nowrap}
        thead .n{white-space:normal}
        .unit{display:block;font-weight:400;color:var(--soft)}
        @media (max-width:30rem){body{padding:1.25rem 1rem 3rem;font-size:1rem}dl div{grid-template-columns:1fr;gap:0}h2{margin-top:2.5rem}}
        @media print{@page{size:A4;margin:18mm}body{max-width:none;padding:0;font-size:9.5pt}nav,.skip{display:none}.scroll{overflow:visible}figure svg{min-width:0}thead{display:table-header-group}tr{break-inside:avoid}table{font-size:7.5pt}}

        """;
}
