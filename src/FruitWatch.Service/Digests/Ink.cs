namespace FruitWatch.Service.Digests;

/// <summary>
/// Styles of the letter. They stand on the elements, because some mail readers drop style sheets; the classes beside them only change
/// colours where a reader asks for dark ones. Every pair of ink and ground has a contrast of 4.5:1 or more.
/// </summary>
internal static class Ink
{
    public const string Page = "margin:0;padding:0;background:#efece2;color:#262b21;"
        + "font-family:Georgia,'Times New Roman',serif;font-size:17px;line-height:1.45;-webkit-text-size-adjust:100%;overflow-wrap:anywhere";

    public const string Preheader = "display:none;max-height:0;overflow:hidden;opacity:0;font-size:1px;line-height:1px;color:#efece2";
    public const string Column = "width:100%;max-width:600px;text-align:left";
    public const string Head = "padding:22px 18px 14px";
    public const string Sender = "margin:0 0 2px;font-size:16px;color:#5a5f50";
    public const string Title = "margin:0 0 10px;font-size:27px;line-height:1.2;font-weight:normal;color:#33502f";
    public const string Summary = "margin:0;font-size:18px";
    public const string Site = "padding:16px 18px 20px;background:#fdfbf5;border-top:3px solid #55704a";
    public const string SiteName = "margin:0;font-size:22px;line-height:1.25;color:#262b21";
    public const string Soft = "margin:2px 0 0;font-size:16px;color:#5a5f50";
    public const string Warning = "margin:12px 0 0;padding:10px 12px;border:2px dashed #96411d;color:#262b21";
    public const string Heading = "margin:24px 0 8px;font-size:17px;line-height:1.3;color:#33502f;border-bottom:1px solid #cfcab9;padding-bottom:4px";
    public const string Quiet = "margin:12px 0 0";
    public const string Mark = "margin:0;font-size:16px;font-weight:bold";
    public const string Species = "font-weight:normal;color:#5a5f50";
    public const string Headline = "margin:2px 0 0;font-size:20px;line-height:1.3;font-weight:bold;color:#262b21";
    public const string Terms = "margin:2px 0 0;font-size:16px;font-weight:bold;color:#262b21";
    public const string Reason = "margin:6px 0 0;font-size:16px;color:#262b21";
    public const string Caution = "margin:10px 0 0;padding:10px 12px;background:#f4ecd0;border:1px solid #a3852c;font-size:16px;color:#262b21";
    public const string CautionHeading = "margin:0 0 4px;font-weight:bold";
    public const string CautionList = "margin:0;padding:0 0 0 20px";
    public const string CautionItem = "margin:0 0 4px";
    public const string Line = "margin:0 0 8px;font-size:16px";
    public const string Link = "color:#2c5a33;text-decoration:underline";
    public const string BedLink = "font-size:18px;color:#262b21;text-decoration:underline";
    public const string DayName = "padding:2px 14px 2px 0;font-size:16px;white-space:nowrap;vertical-align:top;color:#5a5f50";
    public const string DayText = "padding:2px 0;font-size:16px";
    public const string Foot = "padding:20px 18px 30px;font-size:16px;color:#5a5f50";
    public const string FootLine = "margin:14px 0 0";

    public const string Button = "display:inline-block;padding:12px 22px;font-size:17px;line-height:1.3;color:#ffffff;background:#33502f;"
        + "border:1px solid #33502f;text-decoration:none";

    public const string Deeds = "margin:12px 0 0";

    // 44 px high with their line, for thumbs in gloves.
    public const string FirstDeed = "display:inline-block;margin:0 8px 8px 0;padding:10px 16px;font-size:16px;line-height:1.4;font-weight:bold;"
        + "color:#2c5a33;background:#fdfbf5;border:2px solid #2c5a33;text-decoration:none";

    public const string OtherDeed = "display:inline-block;margin:0 8px 8px 0;padding:11px 16px;font-size:16px;line-height:1.4;"
        + "color:#2c5a33;background:#fdfbf5;border:1px solid #2c5a33;text-decoration:none";

    // Dark grounds for readers that ask for them; others keep, or turn round, the light ones.
    public const string Sheet = """
        @media (prefers-color-scheme: dark) {
        .page, .pre { background: #161914 !important; color: #e9e6da !important; }
        .site { background: #1f231c !important; border-color: #7d9a70 !important; }
        .ink, .headline, .warn, .caution { color: #e9e6da !important; }
        .soft { color: #b4b7a5 !important; }
        .moss { color: #abc99c !important; border-color: #41483a !important; }
        .link { color: #a6d0a0 !important; }
        .warn { border-color: #e59a73 !important; }
        .caution { background: #322b16 !important; border-color: #a3852c !important; }
        .u0 { color: #f0a27d !important; border-color: #f0a27d !important; }
        .u1 { color: #abc99c !important; border-color: #abc99c !important; }
        .u2 { color: #d6bd74 !important; border-color: #d6bd74 !important; }
        .u3 { color: #a9bfd0 !important; border-color: #a9bfd0 !important; }
        .deed { background: #1f231c !important; color: #a6d0a0 !important; border-color: #a6d0a0 !important; }
        .button { background: #abc99c !important; color: #161914 !important; border-color: #abc99c !important; }
        }
        """;

    /// <summary>Frame of a notice: its rule differs by weight and dash as well as by colour.</summary>
    public static string Notice(Urgency urgency) => $"margin:0 0 20px;padding:0 0 0 12px;border-left:{urgency switch
    {
        Urgency.AtOnce => "8px solid",
        Urgency.Today => "5px solid",
        Urgency.Soon => "5px double",
        _ => "3px dotted",
    }} {Colour(urgency)};color:{Colour(urgency)}";

    /// <summary>Class of a notice.</summary>
    public static string Class(Urgency urgency) => $"u{(int)urgency}";

    private static string Colour(Urgency urgency) => urgency switch
    {
        Urgency.AtOnce => "#96341a",
        Urgency.Today => "#33502f",
        Urgency.Soon => "#6d5512",
        _ => "#3f566b",
    };
}
