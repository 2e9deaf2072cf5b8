using System.Text;

namespace FruitWatch.Service.Digests;

/// <summary>A letter as plain text: everything that the HTML says, wrapped, with links in full.</summary>
internal sealed class TextLetter
{
    /// <summary>Fits a narrow window, and leaves room for quoting (RFC 3676 section 4.2).</summary>
    private const int Width = 72;

    private readonly StringBuilder text = new();

    private TextLetter()
    {
    }

    public static string Of(Letter letter)
    {
        var writing = new TextLetter();
        writing.Write(letter);
        return writing.text.ToString();
    }

    /// <summary>The shape that stands for how soon, beside the word; the same in HTML.</summary>
    public static string ShapeOf(Urgency urgency) => urgency switch
    {
        Urgency.AtOnce => "▲",
        Urgency.Today => "●",
        Urgency.Soon => "○",
        _ => "◇",
    };

    private void Write(Letter letter)
    {
        Underlined($"{letter.Title} · {letter.Cooperative}", '=');
        Wrapped(letter.Greeting);
        Wrapped(letter.Summary);
        foreach (var site in letter.Sites)
            Write(site);
        Gap();
        text.Append(new string('-', Width)).Append('\n');
        Wrapped($"{letter.Page.Words}:");
        Wrapped(letter.Page.Address!);
        Gap();
        foreach (var line in letter.Credits.Concat(letter.Foot))
            Wrapped(line);
        foreach (var way in letter.Ways)
        {
            Wrapped($"{way.Words}:");
            Wrapped(way.Address!);
        }
    }

    private void Write(LetterSite site)
    {
        Gap();
        Underlined(site.Name, '-');
        Wrapped(site.Weather);
        if (site.Warning is { } warning)
            Wrapped(warning, "!! ", "   ");
        if (site.Quiet is { } quiet)
            Wrapped(quiet);
        Write(site.ToDo);
        Write(site.Coming);
        Write(site.StillOpen);
        Write(site.NoLongerNeeded);
        Write(site.Beds, withLinks: true);
        Write(site.NextDays);
    }

    private void Write(LetterNotices notices)
    {
        if (!notices.Any)
            return;
        Heading(notices.Heading);
        foreach (var notice in notices.InFull)
        {
            Gap();
            Wrapped($"{notice.Mark}: {notice.Bed.Words} ({notice.Species})", $"{ShapeOf(notice.Urgency)} ", "  ");
            Wrapped(notice.Headline, "  ", "  ");
            Wrapped(notice.Terms, "  ", "  ");
            Wrapped(notice.Reason, "  ", "  ");
            if (notice.Caution is { } caution)
            {
                Wrapped($"{caution.Heading}:", "  ", "  ");
                foreach (var sentence in caution.Sentences)
                    Wrapped(sentence, "  - ", "    ");
            }

            foreach (var deed in notice.Deeds)
                Wrapped($"{deed.Words}: {deed.Address}", "  > ", "    ");
        }

        if (notices.InBrief.Count > 0)
            Gap();
        foreach (var line in notices.InBrief)
            Write(line, withLinks: false);
    }

    private void Write(LetterLines lines, bool withLinks = false)
    {
        if (lines.Lines.Count == 0)
            return;
        Heading(lines.Heading);
        foreach (var line in lines.Lines)
            Write(line, withLinks);
    }

    private void Write(LetterLine line, bool withLinks)
    {
        Wrapped(line.About.Words.Length > 0 ? $"{line.About.Words}: {line.Text}" : line.Text, "- ", "  ");
        if (line.Caution is { } caution)
            Wrapped(caution, "  ", "  ");
        if (withLinks && line.About.Address is { } address)
            Wrapped(address, "  ", "  ");
    }

    private void Heading(string heading)
    {
        Gap();
        Wrapped(heading.ToUpperInvariant());
    }

    private void Underlined(string line, char under)
    {
        Wrapped(line);
        text.Append(under, Math.Min(line.Length, Width)).Append('\n');
    }

    private void Gap()
    {
        if (text.Length > 0)
            text.Append('\n');
    }

    // Breaks at plain spaces only: "25 °C" holds together, and a link is never cut.
    private void Wrapped(string line, string first = "", string rest = "")
    {
        if (line.Length == 0)
            return;
        text.Append(first);
        var column = first.Length;
        var begun = false;
        foreach (var word in line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (begun && column + 1 + word.Length > Width)
            {
                text.Append('\n').Append(rest);
                column = rest.Length;
                begun = false;
            }

            if (begun)
                text.Append(' ');
            text.Append(word);
            column += word.Length + (begun ? 1 : 0);
            begun = true;
        }

        text.Append('\n');
    }
}
