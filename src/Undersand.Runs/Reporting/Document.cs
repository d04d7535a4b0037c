namespace Undersand.Runs.Reporting;

/// <summary>What the report says, once, for the page and for the paper.</summary>
internal sealed record ReportDocument(string Title, string Subtitle, string DateLine, string Running, NodaTime.Instant Date, IReadOnlyList<Block> Blocks);

internal abstract record Block;

/// <summary>A heading of level 1 or 2; the anchor is unique in the document.</summary>
internal sealed record Heading(int Level, string Text, string Anchor) : Block;

/// <summary>A paragraph; the lead, if any, is set in bold before it.</summary>
internal sealed record Paragraph(string Text, string? Lead = null) : Block;

/// <summary>A list; the lead of an item, if any, is set in bold.</summary>
internal sealed record Items(IReadOnlyList<Paragraph> Entries) : Block;

/// <summary>Something that must not be overlooked.</summary>
internal sealed record Notice(string Title, IReadOnlyList<Paragraph> Entries, bool Danger) : Block;

/// <summary>Names and values.</summary>
internal sealed record Facts(IReadOnlyList<(string Name, string Value)> Entries) : Block;

/// <summary>A table; cells are text already rounded.</summary>
internal sealed record Table(string Caption, IReadOnlyList<Column> Columns, IReadOnlyList<IReadOnlyList<string>> Rows) : Block;

/// <summary>A column; the first is the row's heading.</summary>
internal sealed record Column(string Name, string Unit = "", bool Number = false);

/// <summary>A drawing; the alternative text says what it shows to those who can't see it.</summary>
internal sealed record Figure(Drawing Drawing, string Caption, string Alternative) : Block;
