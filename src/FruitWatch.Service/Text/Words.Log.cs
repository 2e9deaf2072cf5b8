using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Log;
using NodaTime;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Text;

// The log of a bed and its form.
internal abstract partial class Words
{
    public abstract string LogTitle { get; }

    public abstract string LogIt { get; }

    public abstract string WhatHappened { get; }

    public abstract string MoreKinds { get; }

    /// <summary>A kind of log entry.</summary>
    public abstract string NameOfLog(string kind);

    /// <summary>What the amount of an entry is.</summary>
    public abstract string AmountOf(string kind);

    public abstract string NameOf(LogUnit unit);

    public abstract string QuestionOf(LogChoice choice);

    public abstract string NameOf(Squeeze result);

    public abstract string NameOf(Cover cover);

    public abstract string DepthLaid { get; }

    public abstract string OnDay { get; }

    public abstract string NoteLabel { get; }

    public abstract string SaveEntry { get; }

    public abstract string Cancel { get; }

    public abstract string Undo { get; }

    public abstract string NothingLogged { get; }

    /// <summary>Said after an entry was made.</summary>
    public abstract string EntryAdded(string entry);

    public abstract string EarlierEntries(int count);

    public abstract string EntryUndone { get; }

    /// <summary>The last entry of a bed, in a few words.</summary>
    public abstract string LoggedOn(string kind, LocalDate on, LocalDate today);

    public abstract string ErrorPrefix { get; }

    public abstract string NotTaken { get; }

    public abstract string ChooseOne { get; }

    public abstract string DayBetween(LocalDate first, LocalDate last);

    public abstract string NumberBetween(double low, double high, string unit);

    public abstract string TooLong(int most);

    public abstract string NotPossible { get; }

    /// <summary>One of the things to be chosen.</summary>
    public string ChoiceName(LogChoice choice, string kept, BedCatalogue catalogue) => choice switch
    {
        LogChoice.Squeeze when Enum.TryParse<Squeeze>(kept, ignoreCase: true, out var result) => NameOf(result),
        LogChoice.Cover when Enum.TryParse<Cover>(kept.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var cover) => NameOf(cover),
        LogChoice.Material when catalogue.Materials.TryGetValue(kept, out var material) => NameOf(material),
        _ => kept,
    };

    /// <summary>An entry of a log in a few words, such as "Watered: 20 litres".</summary>
    public string Entry(LogRow entry, BedCatalogue catalogue)
    {
        var asked = LogQuestions.Of(entry.Kind, Units);
        var parts = new List<string>();
        if (asked.Choice is { } choice && entry.Text is { } text)
            parts.Add(ChoiceName(choice, text, catalogue));
        if (asked.Amount is { } amount && entry.Amount is { } much)
            parts.Add($"{Number(much / amount.Kept, 2)}\u00a0{NameOf(amount.Unit)}");
        if (asked.Depth is { } laid && entry.Depth is { } depth)
            parts.Add($"{Number(depth / laid.Kept, 1)}\u00a0{NameOf(laid.Unit)}");
        return parts.Count == 0 ? NameOfLog(entry.Kind) : $"{NameOfLog(entry.Kind)}: {string.Join(", ", parts)}";
    }
}
