using FruitWatch.Model.Beds;
using FruitWatch.Service.Log;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string LogTitle => "Log";

    public override string LogIt => "Log it";

    public override string WhatHappened => "What was done or seen";

    public override string MoreKinds => "More";

    public override string NameOfLog(string kind) => kind switch
    {
        LogKinds.Watered => "Watered",
        LogKinds.Gauge => "Rain gauge read",
        LogKinds.Squeeze => "Squeeze test",
        LogKinds.Moisture => "Moisture measured",
        LogKinds.Cover => "Cover on or off",
        LogKinds.Mycelium => "Mycelium seen",
        LogKinds.Pins => "Pins seen",
        LogKinds.NoPins => "Looked, no pins",
        LogKinds.Picked => "Picked",
        LogKinds.FlushOver => "Flush over",
        LogKinds.ToppedUp => "Topped up",
        LogKinds.Contamination => "Contamination seen",
        LogKinds.SpawnTaken => "Spawn taken",
        LogKinds.Spent => "Bed given up",
        _ => kind,
    };

    public override string AmountOf(string kind) => kind switch
    {
        LogKinds.Watered => "Water given",
        LogKinds.Gauge => "Rain in the gauge on that day",
        LogKinds.Moisture => "Water by weight",
        LogKinds.Mycelium => "White mycelium has reached",
        _ => "Weight picked",
    };

    public override string NameOf(LogUnit unit) => unit switch
    {
        LogUnit.Litres => "litres",
        LogUnit.Millimetres => "mm",
        LogUnit.Percent => "%",
        LogUnit.Kilograms => "kg",
        LogUnit.Gallons => "gallons",
        LogUnit.Inches => "in",
        LogUnit.Pounds => "lb",
        _ => "cm",
    };

    public override string QuestionOf(LogChoice choice) => choice switch
    {
        LogChoice.Squeeze => "A squeezed handful",
        LogChoice.Cover => "Over the bed now",
        _ => "What was laid on top",
    };

    public override string NameOf(Squeeze result) => result switch
    {
        Squeeze.Crumbles => "crumbles",
        Squeeze.Right => "holds together, a drop or two",
        _ => "drips",
    };

    public override string NameOf(Cover cover) => cover switch
    {
        Cover.None => "no cover",
        Cover.Sheet => "closed sheet",
        _ => "sheet with holes",
    };

    public override string DepthLaid => "Depth laid";

    public override string OnDay => "On";

    public override string NoteLabel => "Note (may stay empty)";

    public override string SaveEntry => "Save entry";

    public override string Cancel => "Cancel";

    public override string Undo => "Undo";

    public override string NothingLogged => "nothing yet";

    public override string EntryAdded(string entry) => $"Saved: {entry}. The account is recomputed with it.";

    public override string EarlierEntries(int count) => $"Earlier: {Number(count)}";

    public override string EntryUndone => "Undone: the account is as if the entry had never been made.";

    public override string LoggedOn(string kind, LocalDate on, LocalDate today) =>
        on == today ? $"{NameOfLog(kind)}, today" : $"{NameOfLog(kind)}, {ShortDate(on)}";

    public override string ErrorPrefix => "Error:";

    public override string NotTaken => "Not saved yet:";

    public override string ChooseOne => "Choose one of the answers.";

    public override string DayBetween(LocalDate first, LocalDate last) =>
        $"Give a day from {DateWithYear(first, last)} to {DateWithYear(last, last)}.";

    public override string NumberBetween(double low, double high, string unit) => $"Give a number from {Number(low, 2)} to {Number(high)} {unit}.";

    public override string TooLong(int most) => $"At most {Number(most)} characters.";

    public override string NotPossible => "That cannot be for this bed.";
}
