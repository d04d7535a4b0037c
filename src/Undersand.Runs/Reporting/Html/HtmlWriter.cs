using System.Security.Cryptography;
using System.Text;

namespace Undersand.Runs.Reporting;

/// <summary>Writes the report as one self-contained page: no script, no outside address, fonts and pictures inside.</summary>
internal sealed class HtmlWriter
{
    private readonly StringBuilder _html = new();
    private int _figures, _tables;

    private HtmlWriter()
    {
    }

    public static string Write(ReportDocument document)
    {
        var writer = new HtmlWriter();
        writer.Page(document);
        return writer._html.ToString();
    }

    private void Page(ReportDocument document)
    {
        string style = PageStyle.Css();
        string hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)));
        _html.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        _html.Append($"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-{hash}'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'\">\n");
        _html.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n<meta name=\"referrer\" content=\"no-referrer\">\n");
        _html.Append("<title>").Append(Escape.Html(document.Running)).Append("</title>\n<style>").Append(style).Append("</style>\n</head>\n<body>\n");
        _html.Append("<a class=\"skip\" href=\"#main\">To the report</a>\n");
        _html.Append("<header><h1>").Append(Escape.Html(document.Title)).Append("</h1>\n<p class=\"subtitle\">").Append(Escape.Html(document.Subtitle)).Append("</p>\n<p class=\"date\">").Append(Escape.Html(document.DateLine)).Append("</p></header>\n");
        Contents(document);
        _html.Append("<main id=\"main\">\n");
        foreach (Block block in document.Blocks)
            Write(block);
        _html.Append("</main>\n</body>\n</html>\n");
    }

    private void Contents(ReportDocument document)
    {
        _html.Append("<nav aria-label=\"Contents\"><ol>\n");
        foreach (Heading heading in document.Blocks.OfType<Heading>().Where(h => h.Level == 1))
            _html.Append($"<li><a href=\"#{heading.Anchor}\">{Escape.Html(heading.Text)}</a></li>\n");
        _html.Append("</ol></nav>\n");
    }

    private void Write(Block block)
    {
        switch (block)
        {
            case Heading heading: _html.Append($"<h{heading.Level + 1} id=\"{heading.Anchor}\">{Escape.Html(heading.Text)}</h{heading.Level + 1}>\n"); break;
            case Paragraph paragraph: Paragraph(paragraph); break;
            case Items items: List(items.Entries); break;
            case Notice notice: Notice(notice); break;
            case Facts facts: Facts(facts); break;
            case Table table: Table(table); break;
            case Figure figure: Figure(figure); break;
            default: throw new InvalidOperationException($"No page knows a {block.GetType().Name}.");
        }
    }

    private void Paragraph(Paragraph paragraph) => _html.Append("<p>").Append(Inner(paragraph)).Append("</p>\n");

    private static string Inner(Paragraph p) => p.Lead is null ? Escape.Html(p.Text) : $"<strong>{Escape.Html(p.Lead)}</strong> {Escape.Html(p.Text)}";

    private void List(IReadOnlyList<Paragraph> entries)
    {
        _html.Append("<ul>\n");
        foreach (Paragraph entry in entries)
            _html.Append("<li>").Append(Inner(entry)).Append("</li>\n");
        _html.Append("</ul>\n");
    }

    private void Notice(Notice notice)
    {
        _html.Append(notice.Danger ? "<section class=\"notice danger\">" : "<section class=\"notice\">");
        _html.Append($"<h3>{Escape.Html(notice.Title)}</h3>\n");
        List(notice.Entries);
        _html.Append("</section>\n");
    }

    private void Facts(Facts facts)
    {
        _html.Append("<dl>\n");
        foreach ((string name, string value) in facts.Entries)
            _html.Append($"<div><dt>{Escape.Html(name)}</dt><dd>{Escape.Html(value)}</dd></div>\n");
        _html.Append("</dl>\n");
    }

    private void Table(Table table)
    {
        string id = $"table-{++_tables}";
        _html.Append($"<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-labelledby=\"{id}\"><table>\n<caption id=\"{id}\">{Escape.Html(table.Caption)}</caption>\n<thead><tr>");
        foreach (Column column in table.Columns)
        {
            _html.Append(column.Number ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">").Append(Escape.Html(column.Name));
            if (column.Unit.Length > 0)
                _html.Append(" <span class=\"unit\">").Append(Escape.Html(column.Unit)).Append("</span>");
            _html.Append("</th>");
        }
        _html.Append("</tr></thead>\n<tbody>\n");
        foreach (IReadOnlyList<string> row in table.Rows)
        {
            _html.Append("<tr>");
            for (int c = 0; c < row.Count; c++)
                _html.Append(c == 0 ? "<th scope=\"row\"" : "<td").Append(table.Columns[c].Number ? " class=\"n\">" : ">").Append(Escape.Html(row[c])).Append(c == 0 ? "</th>" : "</td>");
            _html.Append("</tr>\n");
        }
        _html.Append("</tbody></table></div>\n");
    }

    private void Figure(Figure figure)
    {
        string id = $"figure-{++_figures}";
        _html.Append($"<figure><div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-labelledby=\"{id}\">");
        _html.Append(SvgWriter.Inline(figure.Drawing, figure.Alternative, $"f{_figures}"));
        _html.Append($"</div>\n<figcaption id=\"{id}\"><b>Figure {_figures}.</b> {Escape.Html(figure.Caption)}</figcaption></figure>\n");
    }
}
