using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Season;
using FruitWatch.Service.Charts;
using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Html;

namespace FruitWatch.Service.Pages;

/// <summary>
/// Shapes that stand beside words, so that a state is told by word, shape and colour. Hidden from screen readers: the word says it.
/// </summary>
internal static class Marks
{
    public static IHtmlContent Warning { get; } = Mark("M8 1.5 15.2 14.5H.8zM8 6v4.2M8 12v.6", "warning");

    public static IHtmlContent Of(Urgency urgency) => urgency switch
    {
        Urgency.Overdue => Mark("M5 1h6l4 4v6l-4 4H5l-4-4V5z", "full"),
        Urgency.Now => Mark("M8 1l7 7-7 7-7-7z", "full"),
        Urgency.Soon => Mark("M8 1.5a6.5 6.5 0 1 1 0 13a6.5 6.5 0 0 1 0-13zM8 4.5V8l2.5 1.8", "line"),
        _ => Mark("M3 3l5 5-5 5M8 3l5 5-5 5", "line"),
    };

    public static IHtmlContent Of(Phase phase) => phase switch
    {
        Phase.SpawnRun => Mark("M8 8 3 3M8 8l5-4M8 8v6M8 8l-5 2.5M8 8l5 3M3 3.1v-.2M13 4.1v-.2M8 14v0", "line"),
        Phase.Ready => Mark("M8 2a6 6 0 1 1 0 12a6 6 0 0 1 0-12z", "line"),
        Phase.Pinning => Mark("M4 14v-4M8 14V8M12 14v-3M4 9.6v-.4M8 7.6v-.4M12 10.6v-.4", "line"),
        Phase.Growing => Mark("M8 14V7M8 7 4.5 10.5M8 7l3.5 3.5M8 7V2M8 2 5 5M8 2l3 3", "line"),
        Phase.Picking => Mark("M1.5 8a6.5 5.5 0 0 1 13 0zM6 8h4l.7 6H5.3z", "full"),
        Phase.Resting => Mark("M2 8h12M2 11.5h12", "line"),
        _ => Mark("M3 3l10 10M13 3 3 13", "line"),
    };

    public static IHtmlContent Of(MoistureWord moisture) => moisture switch
    {
        MoistureWord.Dry => Mark("M8 1.5 12.3 8.5a5 5 0 1 1-8.6 0z", "line"),
        MoistureWord.Moist => Mark("M8 1.5 12.3 8.5a5 5 0 1 1-8.6 0zM3.6 10.5h8.8M4.5 13h7", "line"),
        _ => Mark("M8 1.5 12.3 8.5a5 5 0 1 1-8.6 0z", "full"),
    };

    public static IHtmlContent Of(NoticeState state) => state switch
    {
        NoticeState.Open => Mark("M8 2a6 6 0 1 1 0 12a6 6 0 0 1 0-12z", "line"),
        NoticeState.Done => Mark("M2.5 8.5l4 4 7-9", "line"),
        NoticeState.Withdrawn => Mark("M13 5v4a3 3 0 0 1-3 3H3M6 9l-3 3 3 3", "line"),
        _ => Mark("M4 2h8L8 8l4 6H4l4-6z", "line"),
    };

    public static IHtmlContent Of(MailState state) => state switch
    {
        MailState.Sent => Mark("M2.5 8.5l4 4 7-9", "line"),
        MailState.Failed or MailState.Expired => Mark("M3 3l10 10M13 3 3 13", "line"),
        MailState.Unconfirmed => Mark("M5 5.5a3 3 0 1 1 4.5 2.6c-1 .6-1.5 1-1.5 2.2M8 13v.5", "line"),
        _ => Mark("M4 2h8L8 8l4 6H4l4-6z", "line"),
    };

    public static IHtmlContent Of(DeliveryState state) => Of(state switch
    {
        DeliveryState.Delivered => MailState.Sent,
        DeliveryState.Failed => MailState.Failed,
        _ => MailState.Pending,
    });

    public static IHtmlContent Of(FeedStanding standing) => standing switch
    {
        FeedStanding.Good => Mark("M2.5 8.5l4 4 7-9", "line"),
        FeedStanding.Failing => Mark("M13 8a5 5 0 1 1-1.6-3.7M13 2v3h-3", "line"),
        FeedStanding.Waiting => Mark("M3 3l10 10M13 3 3 13", "line"),
        FeedStanding.Asked => Mark("M5 5.5a3 3 0 1 1 4.5 2.6c-1 .6-1.5 1-1.5 2.2M8 13v.5", "line"),
        _ => Mark("M4 8h8", "line"),
    };

    /// <summary>A tick for a value that stands for its whole day, a half circle for one that does not.</summary>
    public static IHtmlContent Whole(bool complete) => complete
        ? Mark("M2.5 8.5l4 4 7-9", "line")
        : Mark("M8 2a6 6 0 1 1 0 12a6 6 0 0 1 0-12zM8 2v12", "line");

    /// <summary>Three steps for every year, fewer for fewer.</summary>
    public static IHtmlContent Of(SiteFit fit) => fit switch
    {
        SiteFit.EveryYear => Mark("M3 13.5v-3M8 13.5v-7M13 13.5v-11", "line"),
        SiteFit.Often => Mark("M3 13.5v-3M8 13.5v-7", "line"),
        SiteFit.Seldom => Mark("M3 13.5v-3", "line"),
        SiteFit.Never => Mark("M3 3l10 10M13 3 3 13", "line"),
        _ => Mark("M5 5.5a3 3 0 1 1 4.5 2.6c-1 .6-1.5 1-1.5 2.2M8 13v.5", "line"),
    };

    /// <summary>A drop where rain is worth speaking of, else a dash.</summary>
    public static IHtmlContent Rain(double mm) => mm >= 1 ? Of(MoistureWord.Wet) : Mark("M4 8h8", "line");

    /// <summary>A score as a bar; the number stands beside it.</summary>
    public static IHtmlContent Meter(double score)
    {
        var width = Math.Clamp(score, 0, 100).ToString("0", CultureInfo.InvariantCulture);
        return new HtmlString(
            "<svg class=\"meter\" viewBox=\"0 0 100 8\" preserveAspectRatio=\"none\" aria-hidden=\"true\" focusable=\"false\">"
            + $"<rect class=\"rest\" width=\"100\" height=\"8\"/><rect class=\"part\" width=\"{width}\" height=\"8\"/></svg>");
    }

    /// <summary>How a line or bar of a chart looks, for its legend.</summary>
    public static IHtmlContent Sample(string mark)
    {
        var shape = mark switch
        {
            "rain" or "band" => $"<rect class=\"{mark}\" x=\"2\" y=\"2\" width=\"20\" height=\"10\"/>",
            _ when mark.StartsWith("fan ", StringComparison.Ordinal) => $"<path class=\"{mark}\" d=\"M2 2h20v10h-20z\"/>",
            "came" => "<circle class=\"came\" cx=\"12\" cy=\"7\" r=\"5\"/>",
            "given" => "<path class=\"given\" d=\"M12 2l5 10h-10z\"/>",
            "best" => "<path class=\"best\" d=\"M7 4h10l-5 8z\"/>",
            "wait" => "<path class=\"wait\" d=\"M12 1v12\"/><circle class=\"wait\" cx=\"12\" cy=\"8\" r=\"3\"/>",
            "week unknown" => "<rect class=\"week unknown\" x=\"8\" y=\"9\" width=\"8\" height=\"3\"/>",
            "week" or "week none" => $"<rect class=\"{mark}\" x=\"8\" y=\"2\" width=\"8\" height=\"11\"/>",
            _ when mark.StartsWith("phase ", StringComparison.Ordinal) => $"<rect class=\"{mark}\" x=\"2\" y=\"1\" width=\"20\" height=\"12\"/>",
            _ => $"<path class=\"{mark}\" d=\"M1 7h22\"/>",
        };
        return new HtmlString($"<svg class=\"chart sample\" viewBox=\"0 0 24 14\" aria-hidden=\"true\" focusable=\"false\">{shape}</svg>");
    }

    /// <summary>A chart at a size.</summary>
    public static IHtmlContent Drawn(Chart chart, ChartSize size) => new HtmlString(chart.Draw(size));

    /// <summary>A chart of the year at a size.</summary>
    public static IHtmlContent Drawn(YearChart chart, ChartSize size) => new HtmlString(chart.Draw(size));

    /// <summary>A reliability diagram at a size.</summary>
    public static IHtmlContent Drawn(ReliabilityChart chart, ChartSize size) => new HtmlString(chart.Draw(size));

    private static HtmlString Mark(string path, string classes) => new(
        $"<svg class=\"mark {classes}\" viewBox=\"0 0 16 16\" aria-hidden=\"true\" focusable=\"false\"><path d=\"{path}\"/></svg>");
}
