namespace Undersand.Runs.Reporting;

/// <summary>Sets a table: column widths from their contents, rows kept whole, the head repeated on each page.</summary>
internal sealed class PdfTable
{
    private const double Points = 7.4, Gap = 4, Pad = 0.7;

    private readonly Table _table;
    private readonly double[] _widths;

    public PdfTable(Table table)
    {
        _table = table;
        _widths = Widths(table);
    }

    public void Write(PdfWriter page)
    {
        double line = PdfWriter.LineOf(Points);
        List<string> caption = TextLines.Break(_table.Caption, Tokens.Small, true, Tokens.TextWidth);
        page.Ensure(caption.Count * PdfWriter.LineOf(Tokens.Small) + 8 * line);
        foreach (string text in caption)
        {
            page.Text(text, Tokens.Margin, page.Y + 0.75 * PdfWriter.LineOf(Tokens.Small), Tokens.Small, true, Ink.Text);
            page.Y += PdfWriter.LineOf(Tokens.Small);
        }
        Head(page);
        foreach (IReadOnlyList<string> row in _table.Rows)
        {
            List<string>[] cells = [.. row.Select((cell, c) => TextLines.Break(cell, Points, c == 0, _widths[c]))];
            double height = Math.Min(cells.Max(c => c.Count) * line + 2 * Pad, 200);
            if (page.Room < height)
            {
                page.NewPage();
                Head(page);
            }
            Row(page, cells, height, true);
        }
    }

    private void Head(PdfWriter page)
    {
        double line = PdfWriter.LineOf(Points);
        List<string>[] names = [.. _table.Columns.Select((c, i) => TextLines.Break(c.Name, Points, true, _widths[i]))];
        List<string>[] units = [.. _table.Columns.Select((c, i) => c.Unit.Length == 0 ? [] : TextLines.Break(c.Unit, Points, false, _widths[i]))];
        int rows = names.Zip(units, (n, u) => n.Count + u.Count).Max();
        double top = page.Y + Pad;
        for (int c = 0; c < names.Length; c++)
        {
            int skip = rows - names[c].Count - units[c].Count;
            for (int r = 0; r < names[c].Count + units[c].Count; r++)
            {
                bool unit = r >= names[c].Count;
                Cell(page, c, unit ? units[c][r - names[c].Count] : names[c][r], top + (skip + r) * line, !unit, unit ? Ink.Soft : Ink.Text);
            }
        }
        page.Y = top + rows * line + Pad;
        page.Rule(Tokens.Margin, Tokens.Margin + Tokens.TextWidth, page.Y, Tokens.Pen, Ink.Text);
        page.Y += 0.4;
    }

    private void Row(PdfWriter page, List<string>[] cells, double height, bool rule)
    {
        double line = PdfWriter.LineOf(Points), top = page.Y + Pad;
        for (int c = 0; c < cells.Length; c++)
            for (int r = 0; r < cells[c].Count && (r + 1) * line <= height; r++)
                Cell(page, c, cells[c][r], top + r * line, c == 0, Ink.Text);
        page.Y += height;
        if (rule)
            page.Rule(Tokens.Margin, Tokens.Margin + Tokens.TextWidth, page.Y, Tokens.Hair, Ink.Rule);
    }

    private void Cell(PdfWriter page, int column, string text, double top, bool bold, Ink ink)
    {
        double left = Tokens.Margin;
        for (int c = 0; c < column; c++)
            left += _widths[c] + Gap;
        bool number = _table.Columns[column].Number;
        page.Text(text, number ? left + _widths[column] : left, top + 0.75 * PdfWriter.LineOf(Points), Points, bold, ink, number ? Anchor.End : Anchor.Start);
    }

    /// <summary>Each column gets what its longest word needs; what is left goes to those whose text is longer, and then to all.</summary>
    private static double[] Widths(Table table)
    {
        int n = table.Columns.Count;
        double room = Tokens.TextWidth - (n - 1) * Gap;
        double[] least = new double[n], natural = new double[n];
        for (int c = 0; c < n; c++)
        {
            Column column = table.Columns[c];
            IEnumerable<string> cells = table.Rows.Select(r => r[c]).Append(column.Unit);
            natural[c] = Math.Max(Widest(column.Name.Split(' '), true), cells.Max(t => Typeface.Of(c == 0).Width(t, Points)));
            least[c] = column.Number ? natural[c] : Math.Min(28, Math.Max(Widest(column.Name.Split(' '), true), Widest(cells.SelectMany(t => t.Split(' ')), c == 0)));
            natural[c] = Math.Max(natural[c], least[c]);
        }
        double wanted = natural.Sum() - least.Sum(), spare = room - least.Sum();
        if (spare <= 0)
            return [.. least.Select(w => w * room / least.Sum())];
        double share = wanted <= 0 ? 0 : Math.Min(1, spare / wanted);
        double[] widths = [.. least.Zip(natural, (l, w) => l + share * (w - l))];
        double left = room - widths.Sum(), each = Math.Clamp(left / n, 0, 9);
        for (int c = 0; c < n; c++)
            widths[c] += c == 0 ? Math.Min(each, 3) : each;
        return widths;
    }

    private static double Widest(IEnumerable<string> words, bool bold) => words.Max(w => Typeface.Of(bold).Width(w, Points)) + 0.2;
}
